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

    def setUp(self):
        super().setUp()
        for path in self.papers:
            shutil.copy(path, self.folder)
        self.server = subprocess.Popen([PROGRAM, "workbench"], cwd=self.folder, text=True,
                                       env={**os.environ, **DAY}, stdout=subprocess.PIPE,
                                       stderr=subprocess.PIPE)
        self.addCleanup(self.end)
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
