"""Follows a part's file: makes the part at each save, shows it in an open page, writes its files after."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import islice
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from parts.inputs.document import read_document
from parts.inputs.problems import InputError
from parts.report.page.document import document
from parts.report.page.html import joined, tag
from parts.report.page.part import body, whole_page
from parts.report.page.serving import HOST, Board, State, server
from parts.report.text import governing_sentences

if TYPE_CHECKING:
    from parts.folders.part_files import Outputs

LOOK = 0.05
"""How often the file is looked at [s]."""
SETTLED = 0.02
"""How long it must stand still before it is read: an editor may be writing still [s]."""
FIRST = 0.3
"""Left to the browser to draw the page before the files are written [s]."""
NOTE = (
    "Made while the file is watched: the drawing, the still pictures and the list of files are left out "
    "here, so that the part shows at once. Its files are written right after."
)
Say = Callable[[str], None]
Stamp = tuple[int, ...] | None
Stamps = dict[Path, Stamp]


class Watch:
    """A part's file, the board on which its last good part hangs, and where its files go."""

    def __init__(self, file: Path, folder: Path, say: Say) -> None:
        self.file = file
        self.folder = folder
        self.say = say
        waiting = joined(
            tag("main", tag("h1", file.name), tag("p", "No good part of this file was made yet."))
        )
        self.board = Board(State(0, document(file.name, waiting, version=0)))
        self._on_others = False
        self._ended = False

    def stamps(self) -> Stamps:
        """What tells one save from the next, of the file and of every YAML file beside it."""
        beside = sorted(self.file.parent.glob("*.yaml"))
        return {one: _stamp(one) for one in (self.file, *beside)}

    def saved_since(self, last: Stamps) -> bool:
        """Whether a file that the part hangs on was saved."""
        now = self.stamps()
        if self._on_others:
            return now != last
        return now[self.file] != last[self.file]

    def make(self) -> bool:
        """Make the part from the file as it stands, show it, and write its files.

        Returns:
            True where all went well; else the last good part stays, and the page says what is wrong.
        """
        from parts.folders.part_files import written_of

        began, before = time.perf_counter(), self.stamps()
        try:
            outputs = self._show(began)
            time.sleep(FIRST)
            # Where it was saved again already, the next one's files are soon to come.
            if not self.saved_since(before):
                written_of(outputs, self.folder)
        except Exception as error:  # whatever it is, the watch goes on
            self._complain(error)
            return False
        return True

    def _show(self, began: float) -> Outputs:
        from parts import load
        from parts.folders.part_files import Order, Outputs, shown
        from parts.making.model import model

        written = read_document(self.file)
        self._on_others = isinstance(written.data, dict) and "build" in written.data
        part = load(self.file)
        made = model(part)
        outputs = Outputs(made, Order(written=written))
        content = body(replace(shown(outputs, {}), note=NOTE))
        version = self.board.state.version + 1
        page = whole_page(part, content, version)
        took = time.perf_counter() - began
        verdict = " ".join(islice(governing_sentences(made.result), 2))
        note = f"Made in {took:.2f} s; this page follows {self.file.name}."
        self.board.put(State(version, page, self.folder / part.name, "", note))
        self.say(f"{part.name}: {took:.2f} s, {verdict}")
        return outputs

    def _complain(self, error: Exception) -> None:
        from parts.making.model import MakeError

        if isinstance(error, InputError | MakeError):
            said = str(error)
        elif isinstance(error, OSError):
            said = f"the disk refused: {error}"
        else:
            kind = type(error).__name__
            said = f"a fault of oneoff-parts itself, not of your file: {kind}: {error}"
        self.board.put(replace(self.board.state, wrong=said, note=""))
        self.say(said)

    def follow(self) -> None:
        """Make the part now and at every save, until interrupted or told to end."""
        while not self._ended:
            last = self._settled()
            self.make()
            while not self._ended and not self.saved_since(last):
                time.sleep(LOOK)

    def end(self) -> None:
        """End `follow` from another thread, once the part at hand is made."""
        self._ended = True

    def _settled(self) -> Stamps:
        while True:
            found = self.stamps()
            time.sleep(SETTLED)
            if not self.saved_since(found):
                return found


@contextmanager
def serving(board: Board, port: int = 0) -> Iterator[str]:
    """Serve a board while the block runs.

    Args:
        board: what is shown.
        port: where; any free one for 0.

    Yields:
        The address of the page.

    Raises:
        OSError: the port is taken.
    """
    found = server(board, port)
    thread = Thread(target=found.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield f"http://{HOST}:{found.server_address[1]}/"
    finally:
        board.close()
        found.shutdown()
        found.server_close()


def watch(file: Path, folder: Path, port: int, say: Say) -> None:
    """Follow a part's file until interrupted.

    Args:
        file: YAML file of the part.
        folder: folder that holds the part's own folder.
        port: of the page; any free one for 0.
        say: told what happens, line by line.

    Raises:
        InputError: there is no such file.
        OSError: the port is taken.
    """
    if not file.is_file():
        read_document(file)  # refused: a slip of the finger is no save to wait for
    followed = Watch(file, folder, say)
    with serving(followed.board, port) as address:
        say(f"open {address} in a browser; Ctrl-C ends the watch")
        followed.follow()


def _stamp(file: Path) -> Stamp:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
