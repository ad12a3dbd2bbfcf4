# SPDX-License-Identifier: Apache-2.0
"""A workbench that serves the scratch folder of a test, with the papers that the test names in it."""
import http.client
import json
import os
import re
import shutil
import signal
import subprocess

from program import BRAMBLE, DAY, LARKSPUR, PROGRAM, WALTZ, ProgramTest


class Served(ProgramTest):
    papers = (BRAMBLE, LARKSPUR, WALTZ)
    options = ()

    def setUp(self):
        super().setUp()
        for path in self.papers:
            shutil.copy(path, self.folder)
        self.start()
        self.addCleanup(self.end)

    def start(self):
        self.server = subprocess.Popen([PROGRAM, "workbench", *self.options], cwd=self.folder, text=True,
                                       env={**os.environ, **DAY}, stdout=subprocess.PIPE,
                                       stderr=subprocess.PIPE)
        self.port = int(re.search(r"http://127\.0\.0\.1:(\d+)/", self.server.stdout.readline())[1])

    def end(self):
        self.server.send_signal(signal.SIGTERM)
        self.server.communicate(timeout=60)
        self.server.stdout.close()
        self.server.stderr.close()

    def ask(self, method, path, body=None, **headers):
        """Status, headers and body of one request."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            named = {name.replace("_", "-"): value for name, value in headers.items()}
            connection.request(method, path, body, named)
            reply = connection.getresponse()
            return reply.status, reply.headers, reply.read()
        finally:
            connection.close()

    def question(self, name, **fields):
        status, _, body = self.ask("POST", f"/api/{name}", json.dumps(fields))
        return status, json.loads(body)

    def answered(self, name, **fields):
        """The answer to a question that is taken."""
        status, answer = self.question(name, **fields)
        self.assertEqual(status, 200, answer)
        return answer

    def refused(self, name, words, status=400, **fields):
        """The answer to one that is refused with such words."""
        found, answer = self.question(name, **fields)
        self.assertEqual(found, status, answer)
        self.assertIn(words, answer["error"])
        return answer
