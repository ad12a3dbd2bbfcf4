#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""commands_test.py PROGRAM SOURCE_DIR: exit status, streams, answers and error lines of every
command, and what is left on the disk when something goes wrong."""
import json
import os
import pathlib
import pty
import re
import subprocess
import unittest

from program import (BRAMBLE, DAY, EXAMPLES, HEDGEROW, LARKSPUR, MILLPOND, PROGRAM, WALTZ,
                     ProgramTest, snapshot)

COMMANDS = ["check", "action", "arrange", "clip", "comb", "disc", "hear", "log", "pack", "pitch",
            "scale", "tooth", "workbench"]


class CommandLine(ProgramTest):
    def test_help_of_every_command_ends_with_an_example_of_it(self):
        for command in COMMANDS:
            run = self.run_program(command, "--help")
            self.assertEqual((run.returncode, run.stderr), (0, ""))
            self.assertIn(f"Example:\n  combwright {command} ", run.stdout)

    def test_help_lists_every_command(self):
        run = self.run_program("--help")
        self.assertEqual(run.returncode, 0)
        for command in COMMANDS:
            self.assertRegex(run.stdout, rf"(?m)^  {command}  ")

    def test_version(self):
        run = self.run_program("--version")
        self.assertEqual(run.returncode, 0)
        self.assertRegex(run.stdout, r"^combwright \d+\.\d+\.\d+\n$")

    def test_no_command(self):
        self.assert_refused(self.run_program(), "no command is given; combwright --help lists them")

    def test_a_mistyped_command_gets_a_suggestion(self):
        self.assert_refused(self.run_program("arange", "a", "b"),
                            "there is no command arange; did you mean arrange?")
        self.assert_refused(self.run_program("frobnicate"),
                            "there is no command frobnicate; combwright --help lists them")

    def test_a_mistyped_option_gets_a_suggestion(self):
        self.assert_refused(self.run_program("check", LARKSPUR, "--jsn"),
                            "there is no option --jsn; did you mean --json?")
        self.assert_refused(self.run_program("arrange", LARKSPUR, HEDGEROW, "--transpoze=3"),
                            "there is no option --transpoze; did you mean --transpose?")
        self.assert_refused(self.run_program("--jsn"),
                            "there is no option --jsn; combwright --help lists them")

    def test_a_missing_word_is_named(self):
        self.assert_refused(self.run_program("check"),
                            "BOX is missing; write combwright check BOX")
        self.assert_refused(self.run_program("pack", LARKSPUR, HEDGEROW),
                            "--out is missing; write combwright pack BOX TUNE --out DIR")
        self.assert_refused(self.run_program("disc", LARKSPUR, "--out", "x"),
                            "TUNE is missing; write combwright disc BOX TUNE --out DIR")

    def test_an_action_of_log_that_is_none(self):
        for words, line in [
                ([], "no action is given; combwright log --help lists them"),
                (["lst"], "combwright log has no action lst; did you mean list?"),
                (["frobnicate", "x"], "combwright log has no action frobnicate; combwright log --help "
                                      "lists them"),
                (["list"], "--db is missing; write combwright log list --db FILE"),
                (["list", "--db", "x", "--boks", "y"], "there is no option --boks; did you mean --box?"),
                (["list", "--db", ""], '--db is given as ""; name something, or see combwright log '
                                       "list --help"),
                (["list", "--db"], "--db needs a file; see combwright log list --help"),
                (["add", BRAMBLE, "--temperature"],
                 "--temperature needs a temperature; see combwright log add --help"),
                (["check", "more", "--db", "x"],
                 '"more" is one word too many; write combwright log check --db FILE')]:
            self.assert_refused(self.run_program("log", *words), line)

    def test_a_word_too_many_is_named(self):
        self.assert_refused(self.run_program("check", LARKSPUR, "more"),
                            '"more" is one word too many; write combwright check BOX')

    def test_an_option_without_its_value_is_named(self):
        run = self.run_program("arrange", LARKSPUR, HEDGEROW, "--bars")
        self.assert_refused(run, "--bars needs a first and a last bar; see combwright arrange "
                                 "--help")
        for command, option, line in [
                (["pack", LARKSPUR, HEDGEROW], "--out", "--out needs a folder; see combwright pack "
                                                        "--help"),
                (["comb", LARKSPUR], "--shop", "--shop needs a file; see combwright comb --help"),
                (["scale", LARKSPUR, HEDGEROW], "--teeth",
                 "--teeth needs a whole number; see combwright scale --help"),
                (["scale", LARKSPUR, HEDGEROW], "--lowest",
                 "--lowest needs a note; see combwright scale --help"),
                (["arrange", LARKSPUR, HEDGEROW], "--tempo",
                 "--tempo needs a share; see combwright arrange --help"),
        ]:
            self.assert_refused(self.run_program(*command, option), line)

    def test_a_pipe_is_refused_and_not_waited_for(self):
        os.mkfifo(self.folder / "pipe")
        line = "pipe: is a pipe or a device; only regular files are read"
        for call in (["check", "pipe"], ["arrange", LARKSPUR, "pipe"],
                     ["comb", LARKSPUR, "--shop", "pipe"], ["comb", LARKSPUR, "--learn", "pipe"],
                     ["scale", LARKSPUR, "pipe"], ["hear", LARKSPUR, "pipe", "-o", "x.wav"]):
            self.assert_refused(self.run_program(*call), line)

    def test_bad_values_of_options_are_named(self):
        for option, value, line in [
                ("--bars", "9-1", "--bars 9-1 ends before it begins; write --bars 1-9"),
                ("--transpose", "40", "--transpose 40 is out of reach; write a whole number of "
                                      "semitones from -24 to 24, such as --transpose -3"),
                ("--midi", "", '--midi is given as ""; name something, or see combwright arrange '
                               "--help")]:
            self.assert_refused(self.run_program("arrange", LARKSPUR, HEDGEROW, option, value),
                                line)


    def test_box_and_tune_in_the_wrong_order(self):
        for tune in (HEDGEROW, WALTZ):
            self.assert_refused(self.run_program("arrange", tune, LARKSPUR),
                                f"{tune}: is a tune, where the box file should stand; write the "
                                "box first, then the tune")
        self.assert_refused(self.run_program("arrange", LARKSPUR, BRAMBLE),
                            f"{BRAMBLE}: is no tune but a box or shop file; write the box first, "
                            "then the tune")

    def test_a_sound_that_is_no_wav(self):
        run = self.run_program("hear", LARKSPUR, HEDGEROW, "-o", "x.mp3")
        self.assert_refused(run, "x.mp3: sound is written as WAV only; write -o x.wav")

    def test_an_output_that_cannot_be(self):
        (self.folder / "file").write_text("mine")
        for out, line in [
                ("", '--out is given as ""; name something, or see combwright pack --help'),
                ("file", "file: is a file; --out names a folder"),
                ("file/deep", f"file/deep: can't be made: {self.folder.resolve()}/file is no "
                              "folder; name another"),
                ("x" * 300, "x" * 300 + ": could not write: File name too long; name another "
                            "folder")]:
            self.assert_refused(self.run_program("pack", LARKSPUR, HEDGEROW, "--out", out), line)
        self.assertEqual(os.listdir(self.folder), ["file"])

    def test_a_place_that_the_machine_keeps(self):
        run = self.run_program("disc", BRAMBLE, WALTZ, "--out", "/sys/combwright")
        self.assertEqual((run.returncode, run.stdout), (3, ""))
        self.assertRegex(run.stderr, r"^/sys/combwright: could not write: [^\n]*; name a folder "
                                     r"that can be written to\n$")


class WrongFiles(ProgramTest):
    def test_a_missing_file(self):
        self.assert_refused(self.run_program("check", "none.toml"),
                            "none.toml: could not read: No such file or directory; "
                            "name a file that can be read")

    def test_a_folder_for_a_file(self):
        self.assert_refused(self.run_program("check", "."), ".: is a folder; name a file in it")

    def test_an_error_in_a_box_names_line_and_column(self):
        (self.folder / "bad.toml").write_text('name = "x"\n[disc]\ndiametre = "420 mm"\n')
        run = self.run_program("check", "bad.toml")
        self.assertEqual((run.returncode, run.stdout), (2, ""))
        self.assertRegex(run.stderr, r"^bad\.toml:3:1: .*diameter.*\n$")

    def test_a_file_that_is_no_tune(self):
        (self.folder / "notes.mid").write_text("not a tune")
        run = self.run_program("arrange", LARKSPUR, "notes.mid")
        self.assertEqual((run.returncode, run.stdout), (2, ""))
        self.assertRegex(run.stderr, r"^notes\.mid[:,][^\n]*\n$")

    def test_a_tune_is_known_by_its_contents_not_by_its_ending(self):
        (self.folder / "tune.dat").write_bytes(HEDGEROW.read_bytes())
        self.assertIn(self.run_program("arrange", LARKSPUR, "tune.dat").returncode, (0, 1))
        (self.folder / "score.dat").write_text("not a tune")
        self.assert_refused(self.run_program("arrange", LARKSPUR, "score.dat"),
                            "score.dat: not a tune; a Standard MIDI File (.mid) or MusicXML "
                            "(.musicxml, .xml, .mxl) would do")

    def test_a_line_break_in_a_name_does_not_break_the_line(self):
        run = self.run_program("check", "two\nlines.toml")
        self.assertEqual(run.returncode, 2)
        self.assertEqual(run.stderr.count("\n"), 1)

    def test_a_name_that_is_not_utf8(self):
        run = subprocess.run([PROGRAM, "check", b"\xff.toml", "--json"], capture_output=True)
        self.assertEqual((run.returncode, run.stdout), (2, b""))

    def test_a_title_that_is_not_utf8(self):
        # Track name (FF 03) with bytes of ISO 8859-1, one note.
        track = b"\x00\xff\x03\x04F\xfcr\xff\x00\x90\x43\x50\x60\x80\x43\x00\x00\xff\x2f\x00"
        (self.folder / "t.mid").write_bytes(b"MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60MTrk" +
                                            len(track).to_bytes(4, "big") + track)
        answer = self.answer("pack", BRAMBLE, "t.mid", "--out", "pack")
        self.assertEqual(answer["plucks"], 1)
        self.assertIn(self.run_program("disc", "--from", "pack/plan.json", "--out", "disc").returncode,
                      (0, 1))

    def test_a_date_that_is_none(self):
        run = self.run_program("pack", LARKSPUR, HEDGEROW, "--out", "x",
                               env={"SOURCE_DATE_EPOCH": "yesterday"})
        self.assert_refused(run, 'SOURCE_DATE_EPOCH is "yesterday"; it must be a count of seconds '
                                 "since 1970, such as 1700000000")
        self.assertEqual(os.listdir(self.folder), [])


class Check(ProgramTest):
    def test_both_example_boxes_are_sound(self):
        for box, tracks in [(LARKSPUR, 76), (BRAMBLE, 30)]:
            answer = self.answer("check", box, status=(0,))
            self.assertEqual(answer["box"]["name"], box.stem)
            self.assertGreaterEqual(answer["box"]["tracks"]["count"], tracks - 2)

    def test_lengths_come_in_metres(self):
        box = self.answer("check", LARKSPUR)["box"]
        self.assertEqual(box["disc"]["turning"], "clockwise")
        run = self.run_program("check", LARKSPUR)
        self.assertIn(f"{box['disc']['diameter_m'] * 1000:g} mm", run.stdout)


class Action(ProgramTest):
    def test_arc_and_delay_are_the_same_thing(self):
        answer = self.answer("action", LARKSPUR)
        for track in answer["tracks"]:
            # arc = radius * angle and the disc turns evenly (geometry).
            around = 2 * 3.141592653589793 * track["radius_m"]
            self.assertAlmostEqual(track["release_delay_s"],
                                   track["release_arc_m"] / around * answer["turn_time_s"],
                                   delta=1e-9)
            self.assertGreater(track["lift_m"], 0)
            self.assertGreater(track["min_interval_s"], 0)


class Arrange(ProgramTest):
    # What interface.md lets a note earn.
    EARNS = {"kept": lambda role: 1, "moved": lambda role: 0.9, "dropped": lambda role: 0,
             "octave": lambda role: 0.3 if role == "melody" else 0.6}

    def check_arrangement(self, answer):
        notes, plucks = answer["notes"], answer["plucks"]
        track_midi = {track["track"]: track["midi"] for track in answer["tracks"]}
        interval = {track["track"]: track["min_interval_s"] for track in answer["tracks"]}
        weight = sum(note["weight"] for note in notes)
        earned = sum(note["weight"] * self.EARNS[note["fate"]](note["role"]) for note in notes)
        self.assertAlmostEqual(answer["fidelity"], earned / weight, delta=1e-9)
        self.assertLessEqual(answer["fidelity"], answer["fidelity_bound"] + 1e-9)
        self.assertLessEqual(answer["fidelity_bound"], 1 + 1e-12)
        for index, note in enumerate(notes):
            self.assertEqual(note["index"], index)
            self.assertEqual("why" in note, note["fate"] != "kept")
        sounding = [pluck["note"] for pluck in plucks]
        self.assertEqual(sorted(sounding),
                         [note["index"] for note in notes if note["fate"] != "dropped"])
        last = {}
        for pluck in plucks:
            note = notes[pluck["note"]]
            off = track_midi[pluck["track"]] - note["midi"] - answer["transpose_semitones"]
            late = pluck["time_s"] - note["onset_s"]
            self.assertEqual(off % 12, 0)
            if note["fate"] in ("kept", "octave"):
                self.assertAlmostEqual(late, 0, delta=1e-9)
            if note["fate"] in ("kept", "moved"):
                self.assertEqual(off, 0)
                self.assertLessEqual(abs(late), 0.030 + 1e-9)
            if note["fate"] == "octave":
                self.assertIn(abs(off), (12, 24))
            before = last.get(pluck["track"])
            if before is not None:
                self.assertGreaterEqual(pluck["time_s"] - before,
                                        interval[pluck["track"]] - 1e-9)
            last[pluck["track"]] = pluck["time_s"]

    def test_the_answer_keeps_the_rules(self):
        self.check_arrangement(self.answer("arrange", LARKSPUR, HEDGEROW))
        self.check_arrangement(self.answer("arrange", BRAMBLE, WALTZ))

    def test_wishes_are_kept(self):
        answer = self.answer("arrange", LARKSPUR, MILLPOND, "--bars", "2-9", "--transpose", "-3",
                             "--tempo", "98 %")
        self.assertEqual((answer["first_bar"], answer["last_bar"]), (2, 9))
        self.assertEqual(answer["transpose_semitones"], -3)
        self.assertAlmostEqual(answer["tempo_factor"], 0.98)
        self.check_arrangement(answer)

    def test_the_same_answer_every_time(self):
        runs = [self.run_program("arrange", LARKSPUR, HEDGEROW, "--json") for _ in range(2)]
        self.assertEqual(runs[0].stdout, runs[1].stdout)

    def test_bars_that_the_tune_does_not_have(self):
        run = self.run_program("arrange", LARKSPUR, HEDGEROW, "--bars", "900-901")
        self.assertEqual((run.returncode, run.stdout), (2, ""))
        self.assertRegex(run.stderr, r"^[^\n]*900[^\n]*\n$")

    def test_a_readable_table_says_the_fidelity(self):
        answer = self.answer("arrange", LARKSPUR, HEDGEROW)
        run = self.run_program("arrange", LARKSPUR, HEDGEROW)
        self.assertIn(f"{100 * answer['fidelity']:.1f} %", run.stdout)

    def test_a_folder_gives_one_object_a_line_in_order(self):
        run = self.run_program("arrange", LARKSPUR, EXAMPLES / "tunes", "--json")
        self.assertIn(run.returncode, (0, 1))
        lines = [json.loads(line) for line in run.stdout.splitlines()]
        names = [pathlib.Path(line["tune"]).name for line in lines]
        self.assertEqual(names, ["bramble-waltz.musicxml", "hedgerow-morning.mid",
                                 "hedgerow-morning.musicxml", "round-the-millpond.musicxml"])
        alone = self.answer("arrange", LARKSPUR, HEDGEROW)
        self.assertEqual({**alone, "tune": str(HEDGEROW)}, lines[1])

    def test_a_bad_tune_among_several_gets_an_error_and_the_rest_go_on(self):
        (self.folder / "bad.mid").write_text("MThd")
        run = self.run_program("arrange", BRAMBLE, WALTZ, "bad.mid", WALTZ, "--json")
        self.assertEqual((run.returncode, run.stderr),
                         (2, "1 of 3 tunes could not be arranged; their lines say why\n"))
        lines = [json.loads(line) for line in run.stdout.splitlines()]
        self.assertEqual(["error" in line for line in lines], [False, True, False])
        self.assertTrue(lines[1]["error"].startswith("bad.mid"))
        self.assertEqual(lines[1]["findings"], [])

    def test_a_folder_without_a_tune(self):
        (self.folder / "empty").mkdir()
        self.assert_refused(
            self.run_program("arrange", LARKSPUR, "empty"),
            "empty: holds no tune; tunes end in .mid, .musicxml, .xml or .mxl")


class Scale(ProgramTest):
    def in_place(self, box, notes):
        """The box's text with these lines for its own notes."""
        text = re.sub(r"(?ms)^notes = \[.*?^\]\n", "", box.read_text())
        return text.replace("[scale]\n", "[scale]\n" + notes)

    def test_the_notes_go_into_the_box_file_and_arrange_keeps_what_is_said(self):
        answer = self.answer("scale", BRAMBLE, EXAMPLES / "tunes", "--notes", "notes.txt")
        (self.folder / "box.toml").write_text(
            self.in_place(BRAMBLE, (self.folder / "notes.txt").read_text()))
        scale = self.answer("check", "box.toml")["box"]["scale"]
        self.assertEqual(scale["midi"], [tooth["midi"] for tooth in answer["scale"]])
        for tune in answer["tunes"]:
            arranged = self.answer("arrange", "box.toml", tune["tune"])
            self.assertEqual((arranged["first_bar"], arranged["last_bar"]),
                             (tune["first_bar"], tune["last_bar"]))
            self.assertEqual(len(arranged["notes"]), tune["notes"])
            # A nearer key may cost what docs/arranging.md says: 0.03 % a semitone, over 24 at most.
            self.assertGreaterEqual(arranged["fidelity"], tune["coverage"] - 24 * 0.0003)
            # In the key and at the tempo said, nothing may exceed the tune's bound.
            same = self.answer("arrange", "box.toml", tune["tune"], "--transpose",
                               tune["transpose_semitones"])
            self.assertLessEqual(same["fidelity"], tune["coverage_bound"] + 1e-9)

    def test_coverage_is_the_mean_over_the_tunes_and_lies_between_the_own_scales_and_the_bound(self):
        answer = self.answer("scale", BRAMBLE, EXAMPLES / "tunes", "--teeth", "12")
        self.assertEqual([tooth["track"] for tooth in answer["scale"]], list(range(1, 13)))
        midi = [tooth["midi"] for tooth in answer["scale"]]
        self.assertEqual(midi, sorted(midi))
        for key in ("coverage", "coverage_now"):
            mean = sum(tune[key] for tune in answer["tunes"]) / len(answer["tunes"])
            self.assertAlmostEqual(answer[key], mean, delta=1e-12)
        self.assertLessEqual(answer["coverage"], answer["coverage_bound_in_keys"])
        self.assertLessEqual(answer["coverage_bound_in_keys"], answer["coverage_bound"] + 1e-12)
        gains = [tooth["gain"] for tooth in answer["next"]]
        self.assertEqual(len(gains), 5)
        self.assertAlmostEqual(answer["next"][-1]["coverage"], answer["coverage"] + sum(gains))

    def test_the_same_answer_every_time(self):
        runs = [self.run_program("scale", BRAMBLE, EXAMPLES / "tunes", "--json") for _ in range(2)]
        self.assertEqual(runs[0].stdout, runs[1].stdout)

    def test_a_table_says_the_coverage(self):
        answer = self.answer("scale", BRAMBLE, HEDGEROW, "--teeth", "20")
        run = self.run_program("scale", BRAMBLE, HEDGEROW, "--teeth", "20")
        self.assertRegex(run.stdout, rf"Coverage +{100 * answer['coverage']:.2f} %\n")
        self.assertIn("Note  Track  Coverage", run.stdout)

    def test_bad_tunes_in_a_folder_are_left_out_and_told(self):
        folder = self.folder / "tunes"
        folder.mkdir()
        (folder / "a.mid").write_bytes(HEDGEROW.read_bytes())
        (folder / "cut.mid").write_bytes(b"MThd")
        (folder / "empty.xml").write_bytes(b"")
        (folder / "odd.mxl").write_bytes(b"PK\x03\x04" + bytes(100))
        # A kick drum alone: channel 10.
        track = b"\x00\x99\x24\x60\x60\x89\x24\x00\x00\xff\x2f\x00"
        (folder / "drums.mid").write_bytes(
            b"MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60MTrk" +
            len(track).to_bytes(4, "big") + track)
        answer = self.answer("scale", BRAMBLE, "tunes", status=(0,))
        self.assertEqual([tune["tune"] for tune in answer["tunes"]], ["tunes/a.mid"])
        left_out = [finding["where"].split(":")[0] for finding in answer["findings"]
                    if finding["what"].startswith("left out: ")]
        self.assertEqual(left_out, ["tunes/cut.mid", "tunes/drums.mid", "tunes/empty.xml",
                                    "tunes/odd.mxl"])
        (folder / "a.mid").unlink()
        self.assert_refused(self.run_program("scale", BRAMBLE, "tunes"),
                            "none of the 4 tunes can be arranged; arrange says why")

    def test_a_bad_tune_that_is_named_is_refused(self):
        run = self.run_program("scale", BRAMBLE, HEDGEROW, "none.mid")
        self.assert_refused(run, "none.mid: could not read: No such file or directory; "
                                 "name a file that can be read")

    def test_bad_values_of_options_are_named(self):
        for option, value, line in [
                ("--teeth", "many", "--teeth many is no count; write a whole number, such as "
                                    "--teeth 40"),
                ("--teeth", "0", "0 teeth can't be planned; ask for 1 to 500"),
                ("--lowest", "H3", "--lowest H3 is no note; write it as C4, F#5 or Eb3"),
                ("--lowest", "C8", "--lowest C8 lies above G6, the highest note of the box's scale; "
                                   "give --highest too")]:
            self.assert_refused(self.run_program("scale", BRAMBLE, HEDGEROW, option, value), line)

    def test_a_file_of_another_box_is_kept(self):
        self.answer("scale", BRAMBLE, WALTZ, "--notes", "notes.txt")
        before = (self.folder / "notes.txt").read_bytes()
        self.answer("scale", BRAMBLE, WALTZ, "--notes", "notes.txt")
        run = self.run_program("scale", LARKSPUR, WALTZ, "--notes", "notes.txt")
        self.assertEqual(run.returncode, 2)
        self.assertEqual((self.folder / "notes.txt").read_bytes(), before)


class Overwriting(ProgramTest):
    def test_a_midi_file_of_its_own_is_replaced_and_another_is_not(self):
        words = ["arrange", BRAMBLE, WALTZ, "--midi", "out.mid"]
        for _ in range(2):
            self.assertIn(self.run_program(*words).returncode, (0, 1))
        (self.folder / "out.mid").write_bytes(HEDGEROW.read_bytes())
        self.assert_refused(self.run_program(*words),
                            "out.mid: is there already and is not this program's work; choose "
                            "another name or give --force")
        self.assertEqual((self.folder / "out.mid").read_bytes(), HEDGEROW.read_bytes())
        self.assertIn(self.run_program(*words, "--force").returncode, (0, 1))
        self.assertNotEqual((self.folder / "out.mid").read_bytes(), HEDGEROW.read_bytes())

    def test_a_text_that_only_names_the_program_is_not_replaced(self):
        (self.folder / "notes.txt").write_text("arranged with combwright\n")
        run = self.run_program("arrange", BRAMBLE, WALTZ, "--midi", "notes.txt")
        self.assertEqual(run.returncode, 2)
        self.assertEqual((self.folder / "notes.txt").read_text(), "arranged with combwright\n")

    def test_a_sound_of_its_own_is_replaced_and_another_is_not(self):
        words = ["hear", BRAMBLE, WALTZ, "-o", "out.wav"]
        for _ in range(2):
            self.assertIn(self.run_program(*words).returncode, (0, 1))
        (self.folder / "out.wav").write_bytes(b"RIFF of someone else")
        self.assertEqual(self.run_program(*words).returncode, 2)
        self.assertEqual((self.folder / "out.wav").read_bytes(), b"RIFF of someone else")

    def test_a_pack_is_replaced_and_a_changed_file_in_it_is_not(self):
        words = ["pack", BRAMBLE, WALTZ, "--out", "pack"]
        for _ in range(2):
            self.assertIn(self.run_program(*words).returncode, (0, 1))
        (self.folder / "pack/disc.svg").write_text("<svg/>")
        before = snapshot(self.folder / "pack")
        self.assert_refused(self.run_program(*words),
                            "pack/disc.svg: is there already and is not as this program wrote it; "
                            "choose another folder or give --force")
        self.assertEqual(snapshot(self.folder / "pack"), before)
        self.assertIn(self.run_program(*words, "--force").returncode, (0, 1))

    def test_another_tunes_pack_is_not_replaced(self):
        self.run_program("disc", BRAMBLE, WALTZ, "--out", "disc")
        before = snapshot(self.folder / "disc")
        self.assert_refused(self.run_program("disc", BRAMBLE, HEDGEROW, "--out", "disc"),
                            'disc: holds the disc of "Bramble Waltz" for the box "bramble"; choose '
                            "another folder or give --force")
        self.assertEqual(snapshot(self.folder / "disc"), before)
        self.assertIn(self.run_program("disc", BRAMBLE, HEDGEROW, "--out", "disc",
                                       "--force").returncode, (0, 1))
        self.assertNotEqual(snapshot(self.folder / "disc"), before)

    def test_another_tunes_sound_is_not_replaced(self):
        self.run_program("hear", BRAMBLE, WALTZ, "-o", "out.wav")
        before = (self.folder / "out.wav").read_bytes()
        self.assert_refused(self.run_program("hear", BRAMBLE, HEDGEROW, "-o", "out.wav"),
                            "out.wav: is there already and holds another tune or box; choose "
                            "another name or give --force")
        self.assertEqual((self.folder / "out.wav").read_bytes(), before)

    def test_a_folder_with_the_users_own_files_keeps_them(self):
        (self.folder / "pack").mkdir()
        (self.folder / "pack/ideas.txt").write_text("mine")
        self.assertIn(self.run_program("disc", BRAMBLE, WALTZ, "--out", "pack").returncode, (0, 1))
        self.assertEqual((self.folder / "pack/ideas.txt").read_text(), "mine")

    def test_sums_are_as_sha256sum_reads_them(self):
        self.run_program("disc", BRAMBLE, WALTZ, "--out", "disc")
        subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "SHA256SUMS"],
                       cwd=self.folder / "disc", check=True)


class Plan(ProgramTest):
    def test_a_plan_gives_the_same_files_again(self):
        self.assertIn(self.run_program("disc", LARKSPUR, HEDGEROW, "--out", "a").returncode, (0, 1))
        self.assertIn(self.run_program("disc", "--from", "a/plan.json", "--out", "b",
                                       env={"SOURCE_DATE_EPOCH": "0"}).returncode, (0, 1))
        self.assertEqual(snapshot(self.folder / "a"), snapshot(self.folder / "b"))

    def test_a_plan_of_a_pack_gives_the_packs_disc(self):
        self.run_program("pack", BRAMBLE, WALTZ, "--out", "pack")
        self.run_program("disc", "--from", "pack/plan.json", "--out", "disc")
        pack, disc = snapshot(self.folder / "pack"), snapshot(self.folder / "disc")
        for name in set(disc) - {"SHA256SUMS"}:
            self.assertEqual(disc[name], pack[name], name)

    def test_the_answer_is_the_same_from_a_plan(self):
        first = self.answer("disc", LARKSPUR, HEDGEROW, "--out", "a")
        again = self.answer("disc", "--from", "a/plan.json", "--out", "b")
        for key in ("projections", "outer_radius_m", "turn_time_s", "tour"):
            self.assertEqual(first[key], again[key])

    def test_the_plan_names_what_it_was_made_from(self):
        self.run_program("disc", LARKSPUR, HEDGEROW, "--out", "a")
        text = (self.folder / "a/plan.json").read_text()
        for path in (LARKSPUR, HEDGEROW):
            sum_ = subprocess.run(["sha256sum", path], capture_output=True, text=True).stdout[:64]
            self.assertIn(sum_, text)
        self.assertIn("2023-11-14", text)

    def test_a_plan_with_two_hits_in_one_place_gives_a_fault_and_status_1(self):
        self.run_program("disc", BRAMBLE, WALTZ, "--out", "a")
        plan = json.loads((self.folder / "a/plan.json").read_text())
        plan["projections"].append(plan["projections"][0])
        (self.folder / "twice.json").write_text(json.dumps(plan))
        answer = self.answer("disc", "--from", "twice.json", "--out", "b", status=(1,))
        self.assertIn("fault", [finding["level"] for finding in answer["findings"]])

    def test_a_changed_plan_is_ordered_and_checked_anew_and_says_that_it_was_changed(self):
        whole = self.answer("disc", BRAMBLE, WALTZ, "--out", "a")
        plan = json.loads((self.folder / "a/plan.json").read_text())
        plan["projections"].reverse()
        plan["tour"]["length_s"] = 0.5
        plan["findings"] = []
        plan["geometry"]["projection"]["web_m"] = 0.02
        (self.folder / "changed.json").write_text(json.dumps(plan))
        answer = self.answer("disc", "--from", "changed.json", "--out", "b", status=(1,))
        self.assertEqual(answer["projections"], whole["projections"])
        self.assertEqual(answer["tour"], whole["tour"])
        self.assertIn(("plan", "warning"),
                      [(finding["where"], finding["level"]) for finding in answer["findings"]])
        self.assertTrue(any("of sheet" in finding["what"] and finding["level"] == "fault"
                            for finding in answer["findings"]))

    def test_a_plan_is_held_against_the_shop_at_hand(self):
        self.run_program("disc", BRAMBLE, WALTZ, "--out", "a")
        (self.folder / "weak.toml").write_text('[punch]\nforce_limit = "100 N"\n')
        answer = self.answer("disc", "--from", "a/plan.json", "--out", "b", "--shop", "weak.toml",
                             status=(1,))
        self.assertIn("punch.force_limit", [finding["where"] for finding in answer["findings"]])

    def test_answer_plan_and_papers_tell_the_same_findings(self):
        (self.folder / "weak.toml").write_text('[punch]\nforce_limit = "100 N"\n')
        answer = self.answer("pack", BRAMBLE, HEDGEROW, "--out", "a", "--shop", "weak.toml",
                             status=(1,))
        plan = json.loads((self.folder / "a/plan.json").read_text())
        self.assertGreater(len(answer["findings"]), 1)
        self.assertEqual(plan["findings"], answer["findings"])
        readme = (self.folder / "a/README.txt").read_text()
        pdf = subprocess.run(["pdftotext", self.folder / "a/pack.pdf", "-"], capture_output=True,
                             text=True, check=True).stdout
        for finding in answer["findings"]:
            self.assertIn(finding["what"], readme)
            self.assertEqual("".join(pdf.split()).count("".join(finding["what"].split())), 1)

    def test_a_broken_plan(self):
        (self.folder / "plan.json").write_text('{"projections": [')
        run = self.run_program("disc", "--from", "plan.json", "--out", "b")
        self.assertEqual((run.returncode, run.stdout), (2, ""))
        self.assertRegex(run.stderr, r"^plan\.json[^\n]*\n$")
        self.assertFalse((self.folder / "b").exists())


class Pack(ProgramTest):
    FILES = ["README.txt", "SHA256SUMS", "arrangement.mid", "comb.dxf", "comb.svg", "disc-tiled.pdf",
             "disc.dxf", "disc.pdf", "disc.svg", "pack.pdf", "plan.json", "preview.wav",
             "projections.csv", "punch.ngc", "saw.csv", "teeth.csv", "tracks.csv",
             "train.dxf", "train.svg", "weights.csv"]

    def test_everything_is_in_the_folder_and_the_answer_says_what_for(self):
        answer = self.answer("pack", LARKSPUR, HEDGEROW, "--out", "pack")
        self.assertEqual(sorted(os.listdir(self.folder / "pack")), self.FILES)
        self.assertEqual(sorted(file["path"] for file in answer["files"]),
                         [f"pack/{name}" for name in self.FILES])
        plan = json.loads((self.folder / "pack/plan.json").read_text())
        self.assertEqual(sorted(file["path"] for file in plan["files"]), self.FILES)
        for file in answer["files"]:
            self.assertTrue(file["for"])
            self.assertTrue((self.folder / file["path"]).stat().st_size > 0)
        readme = (self.folder / "pack/README.txt").read_text()
        for name in set(self.FILES) - {"README.txt"}:
            self.assertIn(name, readme)
        self.assertIn("CAUTION", readme)

    def test_the_same_bytes_every_time(self):
        for out in ("a", "b"):
            self.run_program("pack", BRAMBLE, WALTZ, "--out", out)
        self.assertEqual(snapshot(self.folder / "a"), snapshot(self.folder / "b"))

    def test_one_core_gives_the_same_bytes(self):
        self.run_program("pack", BRAMBLE, WALTZ, "--out", "two")
        subprocess.run(["taskset", "-c", "0", PROGRAM, "pack", BRAMBLE, WALTZ, "--out", "one"],
                       cwd=self.folder, capture_output=True, env={**os.environ, **DAY})
        self.assertEqual(snapshot(self.folder / "one"), snapshot(self.folder / "two"))


class Machine(ProgramTest):
    """What happens when the machine refuses."""

    def small_disk(self, size):
        mount = self.folder / "small"
        mount.mkdir()
        made = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", mount],
                              capture_output=True)
        if made.returncode != 0:
            self.skipTest("a small disk can't be mounted here")
        self.addCleanup(lambda: subprocess.run(["umount", mount], check=True))
        return mount

    def test_a_full_disk_leaves_nothing(self):
        disk = self.small_disk("256k")
        run = self.run_program("pack", LARKSPUR, HEDGEROW, "--out", disk / "pack")
        self.assertEqual((run.returncode, run.stdout), (3, ""))
        self.assertRegex(run.stderr, rf"^{disk}/pack/\S+: could not write: No space left on device; "
                         r"nothing was changed\n$")
        self.assertEqual(os.listdir(disk), [])

    def test_a_full_disk_leaves_the_earlier_pack(self):
        disk = self.small_disk("1200k")
        self.assertIn(self.run_program("disc", BRAMBLE, WALTZ, "--out", disk / "out").returncode,
                      (0, 1))
        before = snapshot(disk / "out")
        run = self.run_program("pack", BRAMBLE, WALTZ, "--out", disk / "out")
        self.assertEqual((run.returncode, run.stdout), (3, ""))
        self.assertEqual(snapshot(disk / "out"), before)

    def test_a_full_disk_leaves_no_sound(self):
        disk = self.small_disk("256k")
        run = self.run_program("hear", BRAMBLE, WALTZ, "-o", disk / "out.wav")
        self.assertEqual((run.returncode, run.stdout), (3, ""))
        self.assertEqual(os.listdir(disk), [])

    def test_an_answer_that_cannot_be_written(self):
        with open("/dev/full", "w") as full:
            run = subprocess.run([PROGRAM, "check", LARKSPUR, "--json"], stdout=full,
                                 stderr=subprocess.PIPE, text=True)
        self.assertEqual(run.returncode, 3)
        self.assertEqual(run.stderr, "could not write the answer: No space left on device\n")

    def test_a_reader_that_goes_away_is_no_error(self):
        run = subprocess.run(["sh", "-c", f"{PROGRAM} arrange {LARKSPUR} {HEDGEROW} --json | true"],
                             capture_output=True, text=True)
        self.assertEqual(run.stderr, "")

    def test_progress_is_shown_only_on_a_terminal(self):
        run = self.run_program("arrange", LARKSPUR, EXAMPLES / "tunes")
        self.assertEqual(run.stderr, "")

    def test_a_terminal_is_left_clean(self):
        ours, theirs = pty.openpty()
        subprocess.run([PROGRAM, "arrange", LARKSPUR, EXAMPLES / "tunes"], stdout=subprocess.DEVNULL,
                       stderr=theirs)
        os.close(theirs)
        try:
            shown = os.read(ours, 65536).decode()
        except OSError:  # nothing was shown: it was quick
            shown = ""
        os.close(ours)
        self.assertRegex(shown, r"^(|\r\x1b\[K.*\r\x1b\[K)$")


if __name__ == "__main__":
    unittest.main()
