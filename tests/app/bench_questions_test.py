#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""bench_questions_test.py PROGRAM SOURCE_DIR: teeth at the bench through the workbench: live sound part by
part, files, corrections, and a server that is killed. What was filed is read back by SQLite's own shell; the
recordings' truth is in examples/recordings/README.md."""
import base64
import json
import math
import random
import shutil
import signal
import struct
import subprocess
import unittest

from program import EXAMPLES, LARKSPUR, PROGRAM
from served import Served

RATE = 24000
TOOTH = {"box": "bramble.toml", "track": 7}
FLAC = EXAMPLES / "recordings/tooth.flac"
FLAC_HZ = 425.0


def pluck(hz, seconds=2.0, quiet=0.5, seed=1, decay=0.4, before=()):
    """A decaying tone after some quiet, in a little noise; `before` is sound that goes on under the quiet."""
    noise = random.Random(seed)
    sound = [noise.gauss(0, 2e-4) for _ in range(int(RATE * (quiet + seconds)))]
    start = int(RATE * quiet)
    for n in range(start, len(sound)):
        t = (n - start) / RATE
        sound[n] += 0.3 * math.exp(-t / decay) * math.sin(2 * math.pi * hz * t)
    return sound


def packed(sound):
    return base64.b64encode(struct.pack(f"<{len(sound)}f", *sound)).decode()


class Bench(Served):
    def setUp(self):
        super().setUp()
        self.parts = {}

    def restart(self, kill=signal.SIGKILL):
        self.server.send_signal(kill)
        self.server.wait(60)
        self.server.stdout.close()
        self.server.stderr.close()
        self.start()

    def part(self, session, sound, **fields):
        number = self.parts.get(session, 0)
        answer = self.answered("bench/listen", **{**TOOTH, **fields}, session=session, part=number,
                               rate_hz=RATE, samples=packed(sound))
        self.parts[session] = number + 1
        self.assertEqual(answer["next_part"], number + 1)
        return answer

    def listen(self, session, sound, **fields):
        """The answers that heard something, of a sound sent in parts of 0.1 s."""
        step = RATE // 10
        answers = [self.part(session, sound[n:n + step], **fields) for n in range(0, len(sound), step)]
        return [answer for answer in answers if answer["heard"]]

    def heard(self, session, sound, **fields):
        """The only thing heard in it."""
        answers = self.listen(session, sound, **fields)
        self.assertEqual(len(answers), 1, answers)
        self.assertEqual(len(answers[0]["heard"]), 1, answers)
        return answers[0]["heard"][0], answers[0]["tooth"]

    def rows(self, sql):
        run = subprocess.run(["sqlite3", "-json", self.folder / "records.db", sql],
                             capture_output=True, text=True, check=True, timeout=60)
        return json.loads(run.stdout or "[]")

    def assert_as_clip(self, tooth):
        clip = self.answer("clip", "bramble.toml", "--track=7", "--db=records.db")
        tuning = {**tooth["tuning"], "findings": tooth["findings"], "cautions": tooth["cautions"],
                  "filed": []}
        tuning.pop("offset_hz")
        self.assertEqual(tuning, clip)


class Live(Bench):
    def test_a_pluck_is_filed_and_answered_as_clip_would(self):
        empty = self.answered("bench/tooth", **TOOTH)
        self.assertEqual((empty["tuning"], empty["last"], empty["standing"]), (None, None, "not_read"))
        self.assertFalse((self.folder / "records.db").exists())
        one, tooth = self.heard("a", pluck(425.0), temperature="22.5 C", who="Ann")
        self.assertEqual(one["is"], "filed")
        self.assertLess(abs(one["frequency_hz"] - 425.0), 0.01)
        self.assertEqual(
            self.rows("SELECT id, temperature_c, who, struck FROM readings"),
            [{"id": one["number"], "temperature_c": 22.5, "who": "Ann", "struck": ""}])
        self.assertEqual(self.rows("SELECT frequency_hz FROM readings")[0]["frequency_hz"],
                         one["frequency_hz"])
        self.assertEqual(tooth, self.answered("bench/tooth", **TOOTH))
        self.assert_as_clip(tooth)
        self.assertEqual(tooth["standing"], "flat")

    def test_work_that_was_told_goes_with_the_next_pluck(self):
        _, tooth = self.heard("a", pluck(425.0))
        told = tooth["tuning"]["advice"]["length_m"]
        one, tooth = self.heard("a", pluck(435.0, seed=2), clipped=f"{1e3 * told} mm")
        self.assertEqual(self.rows("SELECT reading, kind, length_m FROM work"),
                         [{"reading": one["number"], "kind": "clip", "length_m": told}])
        self.assertEqual(tooth["tuning"]["readings"][1]["clipped_length_m"], told)
        self.assert_as_clip(tooth)
        picture = tooth["picture"]
        self.assertLess(picture["weight"]["to_m"], picture["weight"]["as_cut_to_m"])
        self.assertAlmostEqual(picture["cut"]["to_m"], picture["weight"]["to_m"])
        self.assertAlmostEqual(picture["cut"]["to_m"] - picture["cut"]["from_m"],
                               tooth["tuning"]["advice"]["length_m"])

    def test_the_reading_is_that_of_the_command_on_the_recording(self):
        decoded = self.folder / "tooth.raw"
        subprocess.run(["sox", FLAC, "-t", "raw", "-e", "floating-point", "-b", "32", decoded], check=True)
        raw = decoded.read_bytes()
        sound = struct.unpack(f"<{len(raw) // 4}f", raw)
        number, found = 0, []
        for n in range(0, len(sound), 4800):
            answer = self.answered("bench/listen", **TOOTH, session="f", part=number, rate_hz=48000,
                                   samples=packed(sound[n:n + 4800]))
            number += 1
            found += answer["heard"]
        self.assertEqual([one["is"] for one in found], ["filed"])
        command = self.answer("pitch", FLAC, "--near=440 Hz")["components"][0]
        self.assertLess(abs(found[0]["frequency_hz"] - command["frequency_hz"]),
                        4 * math.hypot(found[0]["stderr_hz"], command["stderr_hz"]))
        self.assertLess(abs(found[0]["frequency_hz"] - FLAC_HZ), 0.02)

    def test_level_and_ringing(self):
        silent = self.part("a", [0.0] * 2400)
        self.assertEqual((silent["level"], silent["ringing_s"]),
                         ({"peak_dbfs": None, "is": "no_signal"}, None))
        self.assertEqual(self.part("a", [1e-3, -1e-3] * 1200)["level"]["is"], "quiet")
        level = self.part("b", [0.1, -0.1] * 1200)["level"]
        self.assertAlmostEqual(level["peak_dbfs"], -20.0, places=4)
        self.assertEqual(level["is"], "good")
        self.assertEqual(self.part("c", [0.7, -0.7] * 1200)["level"]["is"], "high")
        self.assertEqual(self.part("d", [1.0, -1.0] * 1200)["level"]["is"], "clipped")
        sound = pluck(425.0)
        ringing = [self.part("e", sound[n:n + 2400])["ringing_s"] for n in range(0, 24000, 2400)]
        self.assertEqual(ringing[:5], [None] * 5)
        self.assertAlmostEqual(ringing[7], 0.3, delta=0.05)

    def test_what_is_not_the_tooth_is_not_filed(self):
        one, tooth = self.heard("a", pluck(554.37))
        self.assertEqual(one["is"], "elsewhere")
        self.assertTrue(one["tracks"], one)
        comb = self.answered("bench/comb", box="bramble.toml")
        for track in one["tracks"]:
            target = next(each["target_hz"] for each in comb["teeth"] if each["track"] == track)
            self.assertLess(abs(1200 * math.log2(554.37 / target)), 150)
        self.assertEqual((tooth["last"], tooth["log"]), (None, []))
        noise = random.Random(3)
        knock = [noise.gauss(0, 2e-4) for _ in range(RATE * 3)]
        for n in range(RATE, RATE + 200):
            knock[n] += noise.gauss(0, 0.3)
        for answer in self.listen("b", knock):
            self.assertEqual([each["is"] for each in answer["heard"]], ["nothing"])
        self.assertFalse((self.folder / "records.db").exists())

    def test_parts_out_of_turn(self):
        sound = pluck(425.0)
        step = RATE // 10
        for n in range(0, len(sound), step):
            first = self.part("a", sound[n:n + step])
            if first["heard"]:
                break
        number = self.parts["a"] - 1
        again = self.answered("bench/listen", **TOOTH, session="a", part=number, rate_hz=RATE,
                              samples=packed(sound[n:n + step]))
        self.assertEqual(again, first)
        self.assertEqual(len(self.rows("SELECT id FROM readings")), 1)
        fields = {**TOOTH, "rate_hz": RATE, "samples": packed(sound[:step])}
        lost = self.refused("bench/listen", "was due", 409, **fields, session="a", part=number + 2)
        self.assertEqual(lost["expected"], number + 1)
        self.assertEqual(self.refused("bench/listen", "was due", 409, **fields, session="z", part=4)
                         ["expected"], 0)
        self.refused("bench/listen", "was due", 409, **{**fields, "rate_hz": 48000}, session="a",
                     part=number + 1)

    def test_what_is_refused(self):
        good = {**TOOTH, "session": "a", "part": 0, "rate_hz": RATE, "samples": packed([0.0] * 100)}
        for words, fields in [("base 64", {"samples": "?"}), ("base 64", {"samples": "abc"}),
                              ("32 bits", {"samples": "AAA="}), ("32 bits", {"samples": ""}),
                              ("no number", {"samples": packed([math.nan])}),
                              ("no number", {"samples": packed([1e30])}),
                              ("at most 2 s", {"samples": packed([0.0] * (3 * RATE))}),
                              ("rate_hz", {"rate_hz": 7999}), ("rate_hz", {"rate_hz": 1 << 30}),
                              ("session", {"session": ""}), ("session", {"session": "x" * 65}),
                              ("part must be", {"part": -1}), ("track is 0", {"track": None}),
                              ("track is 999", {"track": 999}), ("clipped", {"clipped": "1"}),
                              ("clipped", {"clipped": "-1 mm"}), ("temperature", {"temperature": "20"}),
                              ("comb", {"comb": "none"}), ("no name", {"box": "../bramble.toml"}),
                              ("no field", {"box_text": "x"})]:
            with self.subTest(fields=str(fields)[:100]):
                self.refused("bench/listen", words, **{**good, **fields})

    def test_nothing_acknowledged_is_lost_when_it_is_killed(self):
        filed = []
        for turn, hz in enumerate((425.0, 433.0, 437.5)):
            sound = pluck(hz, seed=turn)
            step = RATE // 10
            for n in range(0, len(sound), step):
                answer = self.part(f"s{turn}", sound[n:n + step],
                                   clipped="0.2 mm" if turn else "")
                if answer["heard"]:
                    filed.append(answer["heard"][0])
                    before = answer["tooth"]
                    break
            self.restart()
            rows = self.rows("SELECT id AS number, frequency_hz FROM readings WHERE struck = ''")
            self.assertEqual(rows, [{key: one[key] for key in ("number", "frequency_hz")}
                                    for one in filed])
            self.assertEqual(self.answered("bench/tooth", **TOOTH), before)
            # The sound that went on is not known any more: the page begins anew.
            self.refused("bench/listen", "was due", 409, **TOOTH, session=f"s{turn}",
                         part=self.parts[f"s{turn}"], rate_hz=RATE, samples=packed([0.0] * step))


class Files(Bench):
    def test_a_file_is_read_as_by_clip(self):
        fields = {**TOOTH, "recording": "tooth.flac", "bytes": base64.b64encode(FLAC.read_bytes()).decode(),
                  "temperature": "22 C", "who": "Ben"}
        answer = self.answered("bench/file", **fields)
        self.assertEqual(answer["heard"][0]["is"], "filed")
        other = self.answer("clip", "bramble.toml", "--track=7", "--db=other.db", FLAC,
                            "--temperature=22 C")
        self.assertEqual(answer["tooth"]["tuning"]["measured_hz"], other["measured_hz"])
        self.assertEqual(answer["tooth"]["tuning"]["advice"], other["advice"])
        again = self.answered("bench/file", **fields)
        self.assertEqual(again["heard"][0]["is"], "known")
        self.assertEqual(again["heard"][0]["number"], answer["heard"][0]["number"])
        self.refused("bench/file", "", **{**fields, "bytes": base64.b64encode(b"RIFF").decode()})
        self.refused("bench/file", "recording must", **{**fields, "recording": ""})


class Corrections(Bench):
    def filed(self, hz, **fields):
        return self.heard(f"s{hz}", pluck(hz, seed=int(hz)), **fields)[0]["number"]

    def test_work_told_wrongly_is_told_again(self):
        first = self.filed(425.0)
        second = self.filed(435.0, clipped="0.7 mm")
        answer = self.answered("bench/correct", **TOOTH, reading=second, clipped="0.45 mm")
        readings = answer["tooth"]["tuning"]["readings"]
        self.assertEqual([each["clipped_length_m"] for each in readings], [0, 0.00045])
        self.assertEqual(answer["tooth"]["last"], answer["number"])
        self.assert_as_clip(answer["tooth"])
        nothing = self.answered("bench/correct", **TOOTH, reading=answer["number"])
        self.assertEqual(nothing["tooth"]["tuning"]["readings"][1]["clipped_length_m"], 0)
        kept = self.rows("SELECT r.frequency_hz, r.stderr_hz, r.decay_s, r.recording, r.at, r.struck,"
                         " count(p.place) AS partials FROM readings r LEFT JOIN partials p"
                         f" ON p.reading = r.id WHERE r.id >= {second} GROUP BY r.id")
        self.assertEqual(len(kept), 3)
        for row in kept[1:]:
            self.assertEqual({**row, "struck": ""}, {**kept[0], "struck": ""})
        self.assertEqual([bool(row["struck"]) for row in kept], [True, True, False])
        self.refused("bench/correct", "the last of its tooth", **TOOTH, reading=first)
        self.refused("bench/correct", "the last of its tooth", **TOOTH, reading=second)

    def test_another_tooth_is_struck_with_its_work(self):
        self.filed(425.0)
        before = self.answered("bench/tooth", **TOOTH)["tuning"]
        wrong = self.filed(430.0, clipped="0.2 mm")
        self.answered("log/strike", reading=wrong, remark="another tooth", work_too=True)
        tooth = self.answered("bench/tooth", **TOOTH)
        self.assertEqual(tooth["tuning"], before)
        self.assertEqual([each["struck"] for each in tooth["log"]], [None, "another tooth"])


class Comb(Bench):
    def test_how_far_every_tooth_has_come(self):
        comb = self.answered("bench/comb", box="bramble.toml")
        self.assertEqual({tooth["standing"] for tooth in comb["teeth"]}, {"not_read"})
        target = {tooth["track"]: tooth["target_hz"] for tooth in comb["teeth"]}
        for track, cents in ((1, -30), (2, 0.5), (3, 12)):
            self.answered("log/add", box="bramble.toml", track=track,
                          frequency=f"{target[track] * 2 ** (cents / 1200)} Hz", temperature="20 C")
        comb = self.answered("bench/comb", box="bramble.toml")
        self.assertEqual([tooth["standing"] for tooth in comb["teeth"][:4]],
                         ["flat", "in_tune", "sharp", "not_read"])
        made = self.answered("log/certificate", box="bramble.toml")
        self.assertEqual([{key: tooth[key] for key in made["teeth"][0]} for tooth in comb["teeth"]],
                         made["teeth"])
        for track, following in ((1, 3), (2, 3), (3, 4), (len(target), 1)):
            self.assertEqual(self.answered("bench/tooth", box="bramble.toml", track=track)["next_track"],
                             following)

    def test_a_tooth_of_a_pair_beats_with_the_other_once_that_is_in_tune(self):
        shutil.copy(LARKSPUR, self.folder)
        names = [comb["name"] for comb in self.answered("check", box="larkspur.toml")["box"]["combs"]]
        other = self.answered("bench/tooth", box="larkspur.toml", comb=names[1], track=20)
        self.assertIsNone(other["pair_hz"])
        off = other["target_hz"] * 2 ** (1.2 / 1200)
        self.answered("log/add", box="larkspur.toml", comb=names[1], track=20, frequency=f"{off} Hz")
        target = self.answered("bench/tooth", box="larkspur.toml", comb=names[0], track=20)
        self.answered("log/add", box="larkspur.toml", comb=names[0], track=20,
                      frequency=f"{target['target_hz'] * 0.98} Hz")
        tooth = self.answered("bench/tooth", box="larkspur.toml", comb=names[0], track=20)
        self.assertAlmostEqual(tooth["pair_hz"], off, delta=0.01)
        beside = self.answer("clip", "larkspur.toml", "--comb", names[0], "--track=20",
                             "--db=records.db", "--beside", f"{tooth['pair_hz']} Hz")
        self.assertAlmostEqual(tooth["tuning"]["beat_hz"], beside["beat_hz"], places=4)
        self.assertEqual(tooth["tuning"]["advice"]["do"], beside["advice"]["do"])


if __name__ == "__main__":
    unittest.main()
