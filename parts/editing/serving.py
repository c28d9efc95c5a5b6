"""Serves a folder of parts that are changed with the hand to a browser on this machine alone.

Whoever opens the address that the terminal printed is let in once by the key in it, and from then on by a cookie. What
changes something needs the cookie, the token of the page, and an origin that is this server.
"""

from __future__ import annotations

import json
import mimetypes
import secrets
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from hmac import compare_digest
from http import HTTPStatus
from http.cookies import CookieError, SimpleCookie
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import BoundedSemaphore, Thread
from typing import Any
from urllib.parse import quote, unquote

from parts.editing.page import page, shelf_page
from parts.editing.shelf import Shelf
from parts.editing.work import Refused, Work
from parts.inputs.edited import NotEdited
from parts.inputs.problems import InputError
from parts.making.read_back import content

HOST = "127.0.0.1"
BREATH = 1.0
"""How often a silent line is looked at, and the files on the disk with it [s]."""
PATIENCE = 15.0
"""How long a reader or writer may keep a line waiting [s]."""
LARGEST = 200_000
"""Longest request that is read [bytes]."""
MARK = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8"><circle cx="4" cy="4" r="3" fill="#8f3200"/></svg>'
LINES = 24
"""Lines that are open at once."""


@dataclass
class Door:
    """Who is let in: the key of the address is used up by the first who comes with it."""

    key: str = field(default_factory=lambda: secrets.token_urlsafe(18))
    cookie: str = field(default_factory=lambda: secrets.token_urlsafe(18))
    token: str = field(default_factory=lambda: secrets.token_urlsafe(18))

    def opens(self, key: str) -> bool:
        """Whether a key lets in; it never does again."""
        if not self.key or not compare_digest(self.key.encode(), key.encode()):
            return False
        self.key = ""
        return True


class Server(ThreadingHTTPServer):
    """A server of one folder; a line more than it can bear is turned away at once."""

    daemon_threads = True
    request_queue_size = 32

    def __init__(self, shelf: Shelf, port: int) -> None:
        self.shelf = shelf
        self.door = Door()
        self._lines = BoundedSemaphore(LINES)
        super().__init__((HOST, port), _Handler)

    @property
    def address(self) -> str:
        """Where the page is, with the key that lets in once."""
        return f"http://{HOST}:{self.server_address[1]}/?key={self.door.key}"

    def process_request(self, request: Any, client_address: Any) -> None:
        if not self._lines.acquire(blocking=False):
            self.shutdown_request(request)
            return
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._lines.release()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Nothing: a line that breaks off is no fault to tell of."""


class _Handler(BaseHTTPRequestHandler):
    server: Server
    timeout = PATIENCE

    @property
    def _here(self) -> str:
        return f"{HOST}:{self.server.server_address[1]}"

    def do_GET(self) -> None:
        if self.headers.get("Host") != self._here:
            self._say(HTTPStatus.FORBIDDEN, "this is served to this machine alone")
            return
        path, _, query = self.path.partition("?")
        if path == "/" and query.startswith("key="):
            self._let_in(query.removeprefix("key="))
        elif not self._known():
            self._say(
                HTTPStatus.FORBIDDEN, "open the address that the terminal printed; it lets in once"
            )
        else:
            self._known_get(path)

    def _known_get(self, path: str) -> None:
        shelf, token = self.server.shelf, self.server.door.token
        file, rest = _of_file(path)
        found = None
        if path == "/":
            found = "text/html; charset=utf-8", shelf_page(shelf, token)
        elif path.startswith("/family/"):
            drawn = shelf.picture(unquote(path.removeprefix("/family/")))
            found = None if drawn is None else ("image/png", drawn)
        elif file and rest == "":
            found = "text/html; charset=utf-8", page(file, token)
        elif path == "/favicon.ico":
            found = "image/svg+xml", MARK
        if found is not None:
            self._send(HTTPStatus.OK, *found)
            return
        if not file:
            self._say(HTTPStatus.NOT_FOUND, "there is nothing here")
            return
        try:
            work = shelf.work(file)
        except (Refused, InputError) as error:
            self._say(HTTPStatus.NOT_FOUND, str(error))
            return
        if rest == "events":
            self._events(work)
        elif rest.startswith("made/"):
            self._made(work, rest.removeprefix("made/"))
        else:
            self._say(HTTPStatus.NOT_FOUND, "there is nothing here")

    def _let_in(self, key: str) -> None:
        if not self._known() and not self.server.door.opens(key):
            self._say(
                HTTPStatus.FORBIDDEN,
                "this address was used; start `oneoff open` again for a new one",
            )
            return
        self._head(HTTPStatus.SEE_OTHER, "text/plain")
        said = f"hand{self.server.server_address[1]}={self.server.door.cookie}; HttpOnly; SameSite=Strict; Path=/"
        self.send_header("Set-Cookie", said)
        first = self.server.shelf.first
        self.send_header("Location", f"/file/{quote(first)}/" if first else "/")
        self.send_header("Content-Length", "0")
        self.end_headers()

    def _known(self) -> bool:
        cookies: SimpleCookie = SimpleCookie()
        with suppress(CookieError):
            cookies.load(self.headers.get("Cookie", ""))
        own = cookies.get(f"hand{self.server.server_address[1]}")
        return own is not None and compare_digest(
            own.value.encode(), self.server.door.cookie.encode()
        )

    def do_POST(self) -> None:
        origin = self.headers.get("Origin")
        token = self.headers.get("X-Token", "")
        if (
            self.headers.get("Host") != self._here
            or origin != f"http://{self._here}"
            or not self._known()
            or not compare_digest(token.encode(), self.server.door.token.encode())
        ):
            self._say(HTTPStatus.FORBIDDEN, "nothing is changed from elsewhere")
            return
        asked = self._asked()
        file, rest = _of_file(self.path)
        act = ACTS.get(rest)
        if asked is None or (act is None and self.path != "/new"):
            self._say(HTTPStatus.BAD_REQUEST, "this is no change that is known here")
            return
        said, version = "", 0
        try:
            if act is None:
                said = self.server.shelf.new(str(asked["family"]), str(asked["name"]))
            else:
                work = self.server.shelf.work(file)
                act(work, asked)
                version = work.version
        except (Refused, NotEdited, InputError) as error:
            self._say(HTTPStatus.CONFLICT, str(error))
        except (
            KeyError,
            TypeError,
            ValueError,
            AttributeError,
            IndexError,
            OverflowError,
        ) as error:
            self._say(HTTPStatus.BAD_REQUEST, f"this change cannot be understood: {error}")
        except OSError as error:
            self._say(HTTPStatus.INTERNAL_SERVER_ERROR, f"the disk refused: {error}")
        else:
            self._say(HTTPStatus.OK, said, version)

    def _asked(self) -> Mapping[str, Any] | None:
        try:
            long = int(self.headers.get("Content-Length", ""))
        except ValueError:
            return None
        if not 0 <= long <= LARGEST:
            self.close_connection = True
            return None
        with suppress(ValueError, RecursionError):
            found = json.loads(self.rfile.read(long) or b"{}")
            return found if isinstance(found, dict) else None
        return None

    def _made(self, work: Work, name: str) -> None:
        """A file that was made of the part: no path leads out of its folder, and no link does."""
        found = content(work.out / work.name / name) if name in work.files() else None
        if found is None:
            self._say(HTTPStatus.NOT_FOUND, "there is no such file of this part")
            return
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        self._send(HTTPStatus.OK, kind, found)

    def _events(self, work: Work) -> None:
        self._head(HTTPStatus.OK, "text/event-stream")
        self.end_headers()
        seen, quiet = 0, 0
        with suppress(OSError):  # the page was closed, or reads no more
            while (found := work.board.after(seen, BREATH)) is not None:
                seen, told = found
                for one in told:
                    self.wfile.write(f"data: {json.dumps(one)}\n\n".encode())
                quiet = 0 if told else quiet + 1
                if quiet % 10 == 9:
                    self.wfile.write(b":\n\n")
                self.wfile.flush()
                work.look()

    def _say(self, status: HTTPStatus, said: str, version: int = 0) -> None:
        self._send(status, "text/plain; charset=utf-8", said.encode(), version)

    def _send(self, status: HTTPStatus, kind: str, content: bytes, version: int = 0) -> None:
        self._head(status, kind)
        if version:
            self.send_header("X-Version", str(version))
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def _head(self, status: HTTPStatus, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("X-Frame-Options", "DENY")

    def log_message(self, *_: Any) -> None:
        """Nothing is said of requests."""


ACTS: Mapping[str, Callable[[Work, Mapping[str, Any]], None]] = {
    "change": lambda work, asked: work.change(asked["edits"], str(asked.get("gesture", ""))),
    "undo": lambda work, asked: work.undo(),
    "redo": lambda work, asked: work.redo(),
    "save": lambda work, asked: work.save(over=asked.get("over") is True),
    "take": lambda work, asked: work.take(),
    "measured": lambda work, asked: work.measured(
        asked, keep=asked.get("keep") is True, over=asked.get("over") is True
    ),
    "make": lambda work, asked: work.make(purposes_in(asked), packet=asked.get("packet") is True),
}
"""What a page may ask for."""


def _of_file(path: str) -> tuple[str, str]:
    """The file that an address is about, and what stands behind it; empty where it is about none."""
    start, _, rest = path.removeprefix("/file/").partition("/")
    return (unquote(start), unquote(rest)) if path.startswith("/file/") else ("", "")


def purposes_in(asked: Mapping[str, Any]) -> list[str]:
    """The purposes that are asked for, of those that are known."""
    from parts.making.purposes import PURPOSES

    return [one for one in PURPOSES if one in asked.get("for", ())]


@contextmanager
def serving(shelf: Shelf, port: int = 0) -> Iterator[Server]:
    """Serve a folder while the block runs.

    Args:
        shelf: the folder.
        port: where; any free one for 0.

    Yields:
        The server; its `address` lets in once.

    Raises:
        OSError: the port is taken.
    """
    found = Server(shelf, port)
    thread = Thread(target=found.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield found
    finally:
        found.shutdown()
        found.server_close()
