#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""workbench_lines_test.py PROGRAM SOURCE_DIR: answers in lines (application/x-ndjson), work that is stopped when
nobody waits for it any more, bodies that come bit by bit, and the browser that `--open` starts."""
import contextlib
import http.client
import json
import os
import pathlib
import re
import signal
import socket
import subprocess
import time
import unittest

from program import DAY, PROGRAM, WALTZ, ProgramTest
from served import Served

LINES = "application/x-ndjson"
QUESTION = {"box": "bramble.toml", "tune": WALTZ.name}
HUNDREDS = 300  # of tunes: more than any test waits for


def until(true, seconds=60):
    """What must come about, whenever."""
    end = time.monotonic() + seconds
    while not true():
        if time.monotonic() > end:
            raise AssertionError("did not come about")
        time.sleep(0.02)


class InLines(Served):
    @contextlib.contextmanager
    def asking(self, name, **fields):
        """An answer in lines, as it comes."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        try:
            connection.request("POST", f"/api/{name}", json.dumps(fields), {"Accept": LINES})
            reply = connection.getresponse()
            self.assertEqual((reply.status, reply.headers["Content-Type"]), (200, LINES))
            yield reply
        finally:
            connection.close()

    def lines(self, name, **fields):
        with self.asking(name, **fields) as reply:
            return [json.loads(line) for line in reply.read().splitlines()]

    def long_question(self):
        """A question that takes minutes."""
        folder = self.folder
        tunes = []
        for i in range(HUNDREDS):
            name = f"tune{i}.musicxml"
            os.link(folder / WALTZ.name, folder / name)
            tunes.append(name)
        return {"box": "larkspur.toml", "tunes": tunes, "teeth": "400", "lowest": "C1", "highest": "C8"}


class Answers(InLines):
    def test_they_are_the_same_as_without(self):
        for name, fields in [("check", {"box": "bramble.toml"}), ("comb", {"box": "bramble.toml"}),
                             ("arrange", QUESTION), ("motor", QUESTION), ("disc", QUESTION),
                             ("size", {"box": "bramble.toml", "plays": 3}),
                             ("scale", {"box": "bramble.toml", "tunes": [WALTZ.name]})]:
            with self.subTest(question=name):
                lines = self.lines(name, **fields)
                self.assertEqual(lines[-1], {"answer": self.question(name, **fields)[1]})
                for line in lines[:-1]:
                    self.assertEqual(list(line), ["doing"])
                self.assertEqual(bool(lines[:-1]), name != "check")

    def test_what_is_done_is_said_in_words(self):
        doing = [line["doing"] for line in self.lines("arrange", **QUESTION)[:-1]]
        self.assertEqual(doing, ["arranging Bramble Waltz"])

    def test_bytes_follow_the_line_that_counts_them(self):
        _, _, sound = self.ask("POST", "/api/hear", json.dumps(QUESTION))
        with self.asking("hear", **QUESTION) as reply:
            while "doing" in (line := json.loads(reply.readline())):
                pass
            self.assertEqual(line, {"type": "audio/wav", "bytes": len(sound)})
            self.assertTrue(reply.read() == sound)

    def test_what_is_wrong_is_the_last_line(self):
        status, answer = self.question("check", box="none.toml")
        self.assertEqual(self.lines("check", box="none.toml"), [{"status": status, **answer}])
        self.assertEqual(self.lines("none")[0]["status"], 404)


class Stopped(InLines):
    def test_both_turns_are_free_again_when_nobody_waits(self):
        question = self.long_question()
        with self.asking("scale", **question) as first, self.asking("scale", **question) as second:
            for reply in (first, second):
                while json.loads(reply.readline())["doing"] == "reading the tunes":
                    pass
        # Would be refused after half a minute if one of them went on.
        status, answer = self.question("check", box="bramble.toml")
        self.assertEqual(status, 200, answer)

    def test_a_pack_is_whole_or_not_there(self):
        with self.asking("pack", **QUESTION, out="waltz-pack") as reply:
            reply.readline()
        self.server.send_signal(signal.SIGTERM)
        self.assertEqual(self.server.wait(timeout=60), 0)
        made = self.folder / "waltz-pack"
        self.assertEqual(made.exists(), (made / "SHA256SUMS").exists())
        self.assertEqual([path.name for path in self.folder.iterdir() if path.name.startswith(".")], [])

    def test_the_end_of_the_server_stops_it_and_says_so(self):
        with self.asking("scale", **self.long_question()) as reply:
            reply.readline()
            self.server.send_signal(signal.SIGINT)
            last = json.loads(reply.read().splitlines()[-1])
        self.assertEqual(last, {"status": 503, "error": "the workbench was ended", "place": None})
        self.assertEqual(self.server.wait(timeout=60), 0)


class Bodies(Served):
    def raw(self, *parts):
        """A connection that has sent so much."""
        plain = socket.create_connection(("127.0.0.1", self.port), timeout=60)
        self.addCleanup(plain.close)
        for part in parts:
            plain.sendall(part.encode() if isinstance(part, str) else part)
        return plain

    def head(self, method, path, *headers):
        return "\r\n".join([f"{method} {path} HTTP/1.1", f"Host: 127.0.0.1:{self.port}", *headers, "", ""])

    def names(self):
        return sorted(path.name for path in self.folder.iterdir())

    def test_half_a_file_leaves_nothing(self):
        before = self.names()
        sent = self.raw(self.head("PUT", "/api/files/new.toml", "Content-Length: 2000000"), b"#" * 1_000_000)
        part = self.folder / "new.toml.part0"
        # On the disk as it comes.
        until(lambda: part.exists() and part.stat().st_size == 1_000_000)
        self.assertEqual(json.loads(self.ask("GET", "/api/desk")[2])["papers"], ["bramble.toml", "larkspur.toml"])
        sent.close()
        until(lambda: self.names() == before)

    def test_a_large_file_is_never_whole_in_memory(self):
        def peak_kb():
            status = pathlib.Path(f"/proc/{self.server.pid}/status").read_text()
            return int(next(line for line in status.splitlines() if line.startswith("VmHWM")).split()[1])
        self.ask("PUT", "/api/files/first.toml", "#")
        before = peak_kb()
        large = b"#" * (60 << 20)
        self.assertEqual(self.ask("PUT", "/api/files/large.toml", large)[0], 200)
        self.assertTrue((self.folder / "large.toml").read_bytes() == large)
        self.assertLess(peak_kb() - before, 10_000)

    def test_more_than_64_mb_leaves_nothing(self):
        before = self.names()
        def without_end():
            for _ in range(65):
                yield b"#" * (1 << 20)
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        with contextlib.closing(connection):
            with contextlib.suppress(ConnectionError):  # it need not read on
                connection.request("PUT", "/api/files/new.toml", without_end(), encode_chunked=True,
                                   headers={"Transfer-Encoding": "chunked"})
                self.assertEqual(connection.getresponse().status, 413)
        until(lambda: self.names() == before)

    def test_what_follows_a_refused_body_is_no_request(self):
        # As a page from elsewhere can send it: a body that reads like requests.
        inner = 500 * (self.head("PUT", "/api/files/stolen.toml", "Content-Length: 1") + "#")
        for kind in ("text/plain", "multipart/form-data", "multipart/form-data; boundary=x"):
            with self.subTest(type=kind):
                sent = self.raw(self.head("POST", "/api/check", "Origin: http://elsewhere.example",
                                          f"Content-Type: {kind}", f"Content-Length: {len(inner)}"), inner)
                answers = sent.recv(65536)
                sent.sendall(self.head("GET", "/api/desk", "Connection: close").encode())
                answers += b"".join(iter(lambda: sent.recv(65536), b""))
                self.assertEqual(re.findall(rb"HTTP/1.1 (\d+)", answers), [b"403", b"200"])
                self.assertNotIn("stolen.toml", self.names())

    def test_only_put_writes(self):
        before = self.names()
        for method in ("HEAD", "GET", "POST", "DELETE", "PATCH", "OPTIONS"):
            with self.subTest(method=method):
                self.assertGreaterEqual(self.ask(method, "/api/files/new.toml", "")[0], 400)
                self.assertEqual(self.names(), before)
        self.assertEqual(self.ask("HEAD", "/api/files/bramble.toml")[0], 200)
        for path in ("/api/check", "/api/made/x/y", "/", "/box", "/api/files/"):
            self.assertGreaterEqual(self.ask("PUT", path, "x")[0], 400)

    def test_a_file_that_is_made_keeps_its_name(self):
        status, _ = self.question("pack", **QUESTION, out="waltz-pack")
        self.assertEqual(status, 200)
        _, headers, _ = self.ask("GET", "/api/made/waltz-pack/disc.pdf")
        self.assertEqual((headers["Content-Type"], headers["Content-Disposition"]),
                         ("application/pdf", "attachment; filename*=UTF-8''disc.pdf"))
        _, headers, _ = self.ask("POST", "/api/file", json.dumps({**QUESTION, "name": "disc.dxf"}))
        self.assertEqual(headers["Content-Disposition"], "attachment; filename*=UTF-8''disc.dxf")


class Opened(ProgramTest):
    def served(self, browser):
        """A workbench that opens such a browser, and its address."""
        server = subprocess.Popen([PROGRAM, "workbench", "--open"], cwd=self.folder, text=True,
                                  env={**os.environ, **DAY, "BROWSER": browser, "PATH": str(self.folder)},
                                  stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        self.addCleanup(server.kill)
        return server, re.search(r"http:\S+/", server.stdout.readline())[0]

    def script(self, name, text):
        path = self.folder / name
        path.write_text(f"#!/bin/sh\n{text}\n")
        path.chmod(0o755)

    def end(self, server):
        server.send_signal(signal.SIGINT)
        _, notes = server.communicate(timeout=60)
        self.assertEqual(server.returncode, 0)
        return notes

    def test_the_browser_gets_the_address(self):
        self.script("browser", 'printf "%s\\n" "$@" >seen.part; /bin/mv seen.part seen')
        server, address = self.served("missing:browser --new %s#")
        until((self.folder / "seen").exists)
        self.assertEqual((self.folder / "seen").read_text().splitlines(), ["--new", address + "#"])
        self.assertEqual(self.end(server), "")

    def test_no_shell_sees_the_name(self):
        server, _ = self.served("touch stolen;/bin/touch")
        self.assertIn("open the address by hand", server.stderr.readline())
        self.end(server)
        self.assertFalse((self.folder / "stolen").exists())

    def test_a_browser_that_fails_is_a_note(self):
        self.script("xdg-open", "exit 3")
        server, _ = self.served("")
        self.assertIn("open the address by hand", server.stderr.readline())
        self.end(server)


if __name__ == "__main__":
    unittest.main()
