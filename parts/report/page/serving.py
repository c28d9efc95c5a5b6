"""Serves the watched part to a browser on this machine alone: its page, its files, and word of every change."""

from __future__ import annotations

import json
import mimetypes
import os
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from os.path import islink
from pathlib import Path
from threading import Condition
from typing import Any
from urllib.parse import unquote

from parts.making.read_back import content

HOST = "127.0.0.1"
BREATH = 10.0
"""How often a silent line is kept open by a comment [s]."""


@dataclass(frozen=True)
class State:
    """What there is to see: the page of the last good part, its folder, and what is wrong since."""

    version: int
    page: bytes
    folder: Path | None = None
    wrong: str = ""
    note: str = ""


class Board:
    """Where the state hangs: the watch changes it, and every open page waits for it to change."""

    def __init__(self, state: State) -> None:
        self._state = state
        self._changed = Condition()
        self._closed = False

    @property
    def state(self) -> State:
        with self._changed:
            return self._state

    def put(self, state: State) -> None:
        """Change the state, and wake those who wait."""
        with self._changed:
            self._state = state
            self._changed.notify_all()

    def close(self) -> None:
        """Send away those who wait."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def after(self, seen: State, seconds: float) -> State | None:
        """The state once it is another than the one seen, or after so many seconds; None when all is over."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._state is not seen, seconds)
            return None if self._closed else self._state


def server(board: Board, port: int) -> ThreadingHTTPServer:
    """A server of a board on this machine.

    Args:
        board: what it shows.
        port: where it listens; any free one for 0.

    Raises:
        OSError: the port is taken.
    """

    class Handler(_Handler):
        shown = board

    found = ThreadingHTTPServer((HOST, port), Handler)
    found.daemon_threads = True
    return found


class _Handler(BaseHTTPRequestHandler):
    shown: Board

    def do_GET(self) -> None:
        _, port = self.connection.getsockname()
        if self.headers.get("Host") not in (f"{HOST}:{port}", f"localhost:{port}"):
            self._send(HTTPStatus.FORBIDDEN, "text/plain", b"this is served to this machine alone")
            return
        path = unquote(self.path.partition("?")[0])
        if path == "/":
            self._send(HTTPStatus.OK, "text/html; charset=utf-8", self.shown.state.page)
        elif path == "/events":
            self._events()
        else:
            self._file(path.removeprefix("/"))

    def _file(self, name: str) -> None:
        """A file of the part's own folder: no path leads out of it."""
        folder = self.shown.state.folder
        found = None
        # A link in the folder may lead out of it, and an address may be no path at all.
        if folder is not None and name == os.path.basename(name) and not islink(folder / name):
            found = content(folder / name)
        if found is None:
            self._send(HTTPStatus.NOT_FOUND, "text/plain", b"there is no such file of this part")
            return
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        self._send(HTTPStatus.OK, kind, found)

    def _events(self) -> None:
        self._head(HTTPStatus.OK, "text/event-stream")
        self.end_headers()
        state: State | None = self.shown.state
        said: State | None = None
        try:
            while state is not None:
                if state is said:
                    self.wfile.write(b":\n\n")
                else:
                    word = {"version": state.version, "wrong": state.wrong, "note": state.note}
                    self.wfile.write(f"data: {json.dumps(word)}\n\n".encode())
                self.wfile.flush()
                said = state
                state = self.shown.after(said, BREATH)
        except OSError:
            return  # the page was closed

    def _send(self, status: HTTPStatus, kind: str, content: bytes) -> None:
        self._head(status, kind)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def _head(self, status: HTTPStatus, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")

    def log_message(self, *_: Any) -> None:
        """Nothing is said of requests: the terminal tells of the part."""
