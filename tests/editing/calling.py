"""Calls a server as its page does, and waits for what a change comes to."""

import http.client
import json
import time

WAIT = 120.0
"""Longest wait for an answer [s]: the machine may be busy."""


class Caller:
    """Calls a server as its page does."""

    def __init__(self, served):
        self.served, self.place = served, f"127.0.0.1:{served.server_address[1]}"
        status, headers, _ = self.get(f"/?key={served.door.key}")
        assert status == 303
        self.cookie = headers["Set-Cookie"].partition(";")[0]

    def get(self, path, **headers):
        return self._call("GET", path, None, {"Host": self.place, **headers})

    def page(self, path="/"):
        return self.get(path, Cookie=self.cookie)

    def post(self, act, asked=None, **other):
        own = {
            "Host": self.place,
            "Origin": f"http://{self.place}",
            "Cookie": self.cookie,
            "X-Token": self.served.door.token,
        }
        body = json.dumps(asked or {}).encode()
        status, _, said = self._call(
            "POST",
            f"/{act}" if act == "new" else f"/file/part.yaml/{act}",
            body,
            {k: v for k, v in {**own, **other}.items() if v is not None},
        )
        return status, said.decode()

    def change(self, path, value, **more):
        return self.post("change", {"edits": [{"path": path, "value": value}], **more})

    def _call(self, how, path, body, headers):
        line = http.client.HTTPConnection(self.place, timeout=WAIT)
        line.request(how, path, body, headers)
        answer = line.getresponse()
        found = answer.status, dict(answer.getheaders()), answer.read()
        line.close()
        return found


def told(work, stage, newest=True):
    """The record of a stage once it is that of the newest version."""
    end = time.monotonic() + WAIT
    while True:
        found = work.board.get(stage)
        if found and (not newest or found["version"] == work.board.get("state")["version"]):
            return found
        assert time.monotonic() < end, f"no {stage} after {WAIT} s"
        time.sleep(0.01)
