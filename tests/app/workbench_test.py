#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""workbench_test.py PROGRAM SOURCE_DIR: the workbench's server by Python's HTTP client: answers as the
commands give them, requests from elsewhere, files that two hands change, many at once, its end."""
import cmath
import concurrent.futures
import io
import json
import pathlib
import re
import signal
import socket
import unittest
import wave

from program import BRAMBLE, WALTZ, ProgramTest
from served import Served


class Answers(Served):
    def test_they_are_those_of_the_commands(self):
        for name, words, fields in [
                ("check", ["check", "bramble.toml"], {}),
                ("comb", ["comb", "bramble.toml"], {}),
                ("action", ["action", "larkspur.toml"], {"box": "larkspur.toml"}),
                ("arrange", ["arrange", "bramble.toml", WALTZ.name, "--transpose", "2"],
                 {"tune": WALTZ.name, "transpose": "2"}),
                ("motor", ["motor", "bramble.toml"], {}),
                ("motor", ["motor", "bramble.toml", WALTZ.name], {"tune": WALTZ.name}),
                ("size", ["motor", "bramble.toml", "--size", "--plays", "3"], {"plays": 3}),
                ("scale", ["scale", "bramble.toml", WALTZ.name, "--teeth", "30"],
                 {"tunes": [WALTZ.name], "teeth": "30"})]:
            with self.subTest(question=name):
                status, answer = self.question(name, **{"box": "bramble.toml", **fields})
                self.assertEqual(status, 200, answer)
                self.assertEqual(answer, self.answer(*words))

    def test_the_disc_is_that_of_the_plan(self):
        command = self.answer("disc", "bramble.toml", WALTZ.name, "--out", "disc")
        status, answer = self.question("disc", box="bramble.toml", tune=WALTZ.name)
        self.assertEqual(status, 200, answer)
        for key in ("projections", "turn_time_s", "tour", "outer_radius_m", "findings"):
            self.assertEqual(answer[key], command[key], key)
        arranged = self.answer("arrange", "bramble.toml", WALTZ.name)
        self.assertEqual(answer["arranged"],
                         {key: arranged[key] for key in ("first_bar", "last_bar", "fidelity",
                                                         "transpose_semitones", "tempo_factor")}
                         | {"locked": 0})
        drawn = [line["points"] for line in answer["drawing"]["polylines"]
                 if line["layer"] == "PROJECTIONS"]
        self.assertEqual(len(drawn), len(answer["projections"]))
        for points, projection in zip(drawn, answer["projections"]):
            # The leading edge stands at the stated angle, half its width to either side.
            inner, outer = complex(*points[:2]), complex(*points[2:4])
            middle = (inner + outer) / 2
            self.assertAlmostEqual(abs(middle), 1e3 * projection["radius_m"], delta=0.0002)
            self.assertAlmostEqual(abs(middle - cmath.rect(abs(middle), projection["angle_rad"])), 0,
                                   delta=0.0002)

    def test_findings_point_at_what_they_are_about(self):
        text = (self.folder / "bramble.toml").read_text()
        geometry = self.answer("check", "bramble.toml")["box"]["tracks"]["list"]
        status, plain = self.question("disc", box="bramble.toml", tune=WALTZ.name)
        self.assertEqual(status, 200, plain)
        used = {projection["track"] for projection in plain["projections"]}
        over = next(track for track in geometry if track["track"] in used)
        rollers = f'rollers = ["{1e3 * over["radius_m"]} mm"]'
        changed, count = re.subn(r"(?m)^rollers = .*$", rollers, text)
        self.assertEqual(count, 1)
        status, answer = self.question("disc", box="bramble.toml", box_text=changed, tune=WALTZ.name)
        self.assertEqual(status, 200, answer)
        self.assertIn({"track": over["track"]},
                      [finding.get("at") for finding in answer["findings"] if "roller" in finding["where"]])
        _, arrangement = self.question("arrange", box="bramble.toml", tune=WALTZ.name)
        lifted = next(finding for finding in plain["findings"] if "above the melody" in finding["what"])
        self.assertEqual(int(lifted["what"].split()[0]), len(lifted["at"]["notes"]))
        for index in lifted["at"]["notes"]:
            note = arrangement["notes"][index]
            self.assertEqual(note["fate"], "octave")
            self.assertNotEqual(note["role"], "melody")
        first = arrangement["notes"][lifted["at"]["notes"][0]]
        self.assertTrue(lifted["where"].startswith(f"bar {first['bar']} "), lifted["where"])

    def test_mode_shapes_are_of_the_teeth_of_the_comb(self):
        teeth = self.answer("comb", "bramble.toml")["teeth"]
        status, answer = self.question("mode_shapes", box="bramble.toml", comb=teeth[0]["comb"])
        self.assertEqual(status, 200, answer)
        self.assertEqual([one["track"] for one in answer["teeth"]], [one["track"] for one in teeth])
        for one, tooth in zip(answer["teeth"], teeth):
            self.assertEqual(one["positions_m"][0], 0)
            self.assertAlmostEqual(one["positions_m"][-1], tooth["length_m"], delta=1e-12)
            for k, mode in enumerate(one["modes"]):
                self.assertAlmostEqual(mode["frequency_hz"], tooth["modes_hz"][k], delta=1e-6)
                self.assertAlmostEqual(mode["deflections"][-1], 1, delta=1e-9)
                # Mode k has k nodes besides the root (Sturm's oscillation theorem); near it the
                # shape is too flat to have a sign.
                signs = [y > 0 for y in mode["deflections"][5:]]
                self.assertEqual(sum(a != b for a, b in zip(signs, signs[1:])), k)
            self.assertAlmostEqual(one["lifted_stress_pa"][0] / tooth["root_stress_pa"], 1, delta=1e-9)
            self.assertAlmostEqual(one["lifted_stress_pa"][-1], 0, delta=1)

    def test_the_sound_is_that_of_the_command(self):
        self.answer("hear", "bramble.toml", WALTZ.name, "-o", "waltz.wav", "--wind", "last")
        status, headers, sound = self.ask("POST", "/api/hear", json.dumps(
            {"box": "bramble.toml", "tune": WALTZ.name, "wind": "last"}))
        self.assertEqual((status, headers["Content-Type"]), (200, "audio/wav"))
        self.assertEqual(sound, (self.folder / "waltz.wav").read_bytes())

    def test_what_is_left_out_is_heard_alone(self):
        fields = {"box": "bramble.toml", "tune": WALTZ.name, "transpose": "-7"}
        _, arranged = self.question("arrange", **fields)
        dropped = [note["onset_s"] for note in arranged["notes"] if note["fate"] == "dropped"]
        self.assertTrue(dropped)
        _, _, sound = self.ask("POST", "/api/hear", json.dumps({**fields, "only": "left_out"}))
        with wave.open(io.BytesIO(sound)) as heard:
            rate, width = heard.getframerate(), heard.getsampwidth() * heard.getnchannels()
            before = heard.readframes(int(min(dropped) * rate))
            after = heard.readframes(rate // 10)
        self.assertEqual(before.strip(b"\0"), b"", "silent until the first of them")
        self.assertGreater(len(after.strip(b"\0")), 1000 * width)

    def test_a_pack_is_written_and_its_files_are_given(self):
        fields = {"box": "bramble.toml", "tune": WALTZ.name}
        status, answer = self.question("pack", **fields, out="waltz-pack")
        self.assertEqual(status, 200, answer)
        self.answer("pack", "bramble.toml", WALTZ.name, "--out", "other")
        for entry in answer["files"]:
            name = pathlib.Path(entry["path"]).name
            with self.subTest(file=name):
                theirs = (self.folder / "other" / name).read_bytes()
                status, _, body = self.ask("GET", f"/api/made/waltz-pack/{name}")
                self.assertEqual((status, body == theirs), (200, True))
                if name != "SHA256SUMS":
                    _, _, alone = self.ask("POST", "/api/file", json.dumps({**fields, "name": name}))
                    self.assertTrue(alone == theirs)
        # What can be had alone is the pack but for the list of its sums.
        listed = self.answered("files", **fields)
        self.assertEqual([entry["path"] for entry in listed["files"]] + ["SHA256SUMS"],
                         [pathlib.Path(entry["path"]).name for entry in answer["files"]])
        self.assertEqual(listed["cautions"], answer["cautions"])
        # Another box's pack is not written over unless that is said.
        other = {"box": "larkspur.toml", "tune": WALTZ.name, "bars": "1-4", "out": "waltz-pack"}
        self.refused("pack", "holds the disc of", **other)
        self.answered("pack", **other, force=True)
        for path in ("waltz-pack/none", "waltz-pack/..%2f..%2fbramble.toml", "waltz-pack", "../other/x"):
            self.assertGreaterEqual(self.ask("GET", f"/api/made/{path}")[0], 400)

    def test_of_a_box_that_is_not_saved(self):
        text = (self.folder / "bramble.toml").read_text().replace("points = 8", "points = 10")
        _, answer = self.question("check", box="bramble.toml", box_text=text)
        self.assertEqual(answer["box"]["star_wheel"]["points"], 10)
        self.assertIn("points = 8", (self.folder / "bramble.toml").read_text())

    def test_what_is_wrong_has_its_place(self):
        text = (self.folder / "bramble.toml").read_text().replace("points = 8", "points = eight")
        line = text.splitlines().index(next(l for l in text.splitlines() if "= eight" in l)) + 1
        status, answer = self.question("check", box="bramble.toml", box_text=text)
        self.assertEqual(status, 400)
        self.assertEqual((answer["place"]["file"], answer["place"]["line"]), ("bramble.toml", line))

    def test_questions_that_are_none(self):
        for name, body, status in [("check", "{", 400), ("check", "[]", 400), ("check", "{}", 400),
                                   ("check", '{"box": 3}', 400),
                                   ("check", '{"box": "bramble.toml", "tune": "x.mid"}', 400),
                                   ("check", '{"box": "none.toml"}', 400),
                                   ("size", '{"box": "bramble.toml", "plays": 201}', 400), ("none", "{}", 404)]:
            with self.subTest(question=name, body=body):
                found, _, text = self.ask("POST", f"/api/{name}", body)
                self.assertEqual(found, status)
                self.assertTrue(json.loads(text)["error"])
        self.assertEqual(self.ask("GET", "/api/check")[0], 405)
        # As deep as it likes: nobody's stack is spent on it.
        self.assertEqual(self.ask("POST", "/api/check", "[" * 1_000_000)[0], 400)
        nested = '{"box": "bramble.toml", "edits": [{"section": %s%s}]}' % ("[" * 200_000, "]" * 200_000)
        status, answer = self.ask("POST", "/api/edit", nested)[::2]
        self.assertEqual((status, json.loads(answer)["error"]), (400, "the body is nested too deep"))
        self.assertEqual(self.ask("GET", "/api/desk")[0], 200)


class Files(Served):
    def test_the_folder_is_listed(self):
        (self.folder / ".hidden.toml").write_text("")
        (self.folder / "below").mkdir()
        _, _, body = self.ask("GET", "/api/desk")
        (self.folder / "ours.toml").write_text("[punch]\n")
        _, _, body = self.ask("GET", "/api/desk")
        desk = json.loads(body)
        self.assertRegex(desk.pop("id"), "^[0-9a-f]{12}$")
        self.assertEqual(desk, {"papers": ["bramble.toml", "larkspur.toml", "ours.toml"],
                                "shops": ["ours.toml"], "tunes": [WALTZ.name]})

    def test_links_and_permissions_stay(self):
        place = self.folder / "below" / "bramble.toml"
        place.parent.mkdir()
        (self.folder / "bramble.toml").rename(place)
        place.chmod(0o640)
        (self.folder / "bramble.toml").symlink_to("below/bramble.toml")
        _, headers, text = self.ask("GET", "/api/files/bramble.toml")
        status, _, _ = self.ask("PUT", "/api/files/bramble.toml", text + b"# ours\n", If_Match=headers["ETag"])
        self.assertEqual(status, 200)
        self.assertTrue((self.folder / "bramble.toml").is_symlink())
        self.assertEqual(place.read_bytes(), text + b"# ours\n")
        self.assertEqual(place.stat().st_mode & 0o777, 0o640)

    def test_saved_bytes_come_back(self):
        text = BRAMBLE.read_text() + "# a word of the maker\n"
        _, headers, body = self.ask("GET", "/api/files/bramble.toml")
        self.assertEqual(body, BRAMBLE.read_bytes())
        status, _, _ = self.ask("PUT", "/api/files/bramble.toml", text, If_Match=headers["ETag"])
        self.assertEqual(status, 200)
        self.assertEqual((self.folder / "bramble.toml").read_text(), text)

    def test_what_another_hand_changed_is_not_written_over(self):
        _, headers, _ = self.ask("GET", "/api/files/bramble.toml")
        (self.folder / "bramble.toml").write_text("# theirs\n")
        for known in ({"If_Match": headers["ETag"]}, {}):
            self.assertEqual(self.ask("PUT", "/api/files/bramble.toml", "# ours\n", **known)[0], 412)
        self.assertEqual((self.folder / "bramble.toml").read_text(), "# theirs\n")
        self.assertEqual(self.ask("PUT", "/api/files/new.toml", "# ours\n")[0], 200)

    def test_a_tune_that_cannot_be_read_is_not_kept(self):
        # Standard MIDI Files 1.0: a header chunk, here cut within its length.
        status, _, body = self.ask("PUT", "/api/files/cut.mid", b"MThd\0\0")
        self.assertEqual((status, json.loads(body)["place"]["file"]), (400, "cut.mid"))
        self.assertEqual(self.ask("PUT", "/api/files/whole.musicxml", WALTZ.read_bytes())[0], 200)
        self.assertEqual(sorted(path.name for path in self.folder.iterdir()),
                         sorted(["bramble.toml", "larkspur.toml", WALTZ.name, "whole.musicxml"]))

    def test_only_files_of_the_folder_are_touched(self):
        for name in ("../x.toml", "%2e%2e%2fx.toml", "..%2f..%2fetc%2fpasswd", ".x.toml", "x.txt",
                     "a%00.toml", "/etc/passwd"):
            with self.subTest(name=name):
                self.assertIn(self.ask("GET", f"/api/files/{name}")[0], (400, 404))
                self.assertIn(self.ask("PUT", f"/api/files/{name}", "x")[0], (400, 404))
        self.assertEqual(sorted(path.name for path in self.folder.iterdir()),
                         sorted(["bramble.toml", "larkspur.toml", WALTZ.name]))


class Port(Served):
    def test_a_folder_is_served_where_it_was(self):
        port = self.port
        desk = self.ask("GET", "/api/desk")[2]
        self.end()
        self.start()
        self.assertEqual(self.port, port, "the browser finds what it kept")
        self.assertEqual(self.ask("GET", "/api/desk")[2], desk)

    def test_it_goes_elsewhere_where_that_is_taken(self):
        first, port = self.server, self.port
        self.start()
        self.assertNotEqual(self.port, port)
        self.assertEqual(self.ask("GET", "/api/desk")[0], 200)
        self.end()
        self.server = first


class Guard(Served):
    def test_other_names_and_other_pages_are_refused(self):
        own = f"127.0.0.1:{self.port}"
        for headers, status in [({"Host": f"localhost:{self.port}"}, 200), ({"Host": "evil.example"}, 403),
                                ({"Host": f"evil.example:{self.port}"}, 403),
                                ({"Host": own, "Origin": f"http://{own}"}, 200),
                                ({"Host": own, "Origin": "http://evil.example"}, 403),
                                ({"Host": own, "Origin": "null"}, 403),
                                ({"Host": own, "Sec_Fetch_Site": "cross-site"}, 403)]:
            with self.subTest(headers=headers):
                body = json.dumps({"box": "bramble.toml"})
                self.assertEqual(self.ask("POST", "/api/check", body, **headers)[0], status)

    def test_it_listens_on_the_loopback_only(self):
        lines = pathlib.Path("/proc/net/tcp").read_text().splitlines()[1:]
        listening = [line.split()[1] for line in lines if line.split()[3] == "0A"]
        self.assertEqual([place for place in listening if int(place.split(":")[1], 16) == self.port],
                         [f"0100007F:{self.port:04X}"])

    def test_every_answer_bars_what_comes_from_elsewhere(self):
        for path in ("/api/desk", "/api/none", "/none"):
            _, headers, _ = self.ask("GET", path)
            self.assertIn("default-src 'none'", headers["Content-Security-Policy"])
            self.assertEqual(headers["X-Content-Type-Options"], "nosniff")

    def test_a_body_without_end_is_refused(self):
        with socket.create_connection(("127.0.0.1", self.port), timeout=30) as plain:
            plain.sendall(f"PUT /api/files/x.toml HTTP/1.1\r\nHost: 127.0.0.1:{self.port}\r\n"
                          f"Content-Length: {1 << 40}\r\n\r\n".encode())
            self.assertIn(b" 413 ", plain.recv(4096))

    def test_garbage_leaves_it_standing(self):
        for bytes_ in (b"\0" * 1000, b"GET " + b"/" * 100_000 + b" HTTP/1.1\r\n\r\n", b"\r\n\r\n",
                       b"POST /api/check HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n"):
            with socket.create_connection(("127.0.0.1", self.port), timeout=30) as plain:
                plain.sendall(bytes_)
        self.assertEqual(self.ask("GET", "/api/desk")[0], 200)


class Many(Served):
    def test_64_at_once_all_get_their_answer(self):
        body = json.dumps({"box": "bramble.toml"})
        with concurrent.futures.ThreadPoolExecutor(64) as pool:
            replies = list(pool.map(lambda _: self.ask("POST", "/api/check", body), range(256)))
        self.assertEqual({status for status, _, _ in replies}, {200})
        self.assertEqual(len({text for _, _, text in replies}), 1)

    def test_it_ends_when_told_and_finishes_what_it_began(self):
        with concurrent.futures.ThreadPoolExecutor(4) as pool:
            body = json.dumps({"box": "bramble.toml"})
            asked = [pool.submit(self.ask, "POST", "/api/comb", body) for _ in range(4)]
            # Begun when the first is answered at the latest.
            concurrent.futures.wait(asked, return_when=concurrent.futures.FIRST_COMPLETED)
            self.server.send_signal(signal.SIGINT)
            self.assertEqual({reply.result()[0] for reply in asked}, {200})
        self.assertEqual(self.server.wait(timeout=60), 0)


class Line(ProgramTest):
    def test_records_that_cannot_be_worked_with(self):
        (self.folder / "other.db").write_bytes(b"another program's")
        for name, line in (("other.db", "other.db: holds no records of this program; "
                            "name another file"),
                           ("none/bench.db", "none/bench.db: has no folder to lie in; make it, or "
                            "name another file")):
            run = self.run_program("workbench", "--db", name)
            self.assert_refused(run, line)
        self.assertEqual((self.folder / "other.db").read_bytes(), b"another program's")

    def test_a_port_that_is_taken(self):
        with socket.create_server(("127.0.0.1", 0)) as other:
            port = other.getsockname()[1]
            run = self.run_program("workbench", "--port", str(port))
            self.assertEqual((run.returncode, run.stdout), (3, ""))
            self.assertIn(f"port {port} of this computer is taken", run.stderr)


if __name__ == "__main__":
    unittest.main()
