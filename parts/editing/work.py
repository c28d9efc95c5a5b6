"""A file while it is changed with the hand: its text step by step, what it comes to, and its way back to the disk."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from threading import RLock, Thread
from typing import Any

from parts.editing.board import Board
from parts.editing.made import NoPlace, files_of, judged, kept_of, placed
from parts.editing.reading import Reader
from parts.editing.typed import can_be, chosen, edits_of, one_more
from parts.inputs.document import content_of, parse_document
from parts.inputs.edited import NotEdited, edited
from parts.inputs.problems import InputError
from parts.inputs.reading import FAMILY_KEY
from parts.making.writing import write_all, write_whole
from parts.running import READ_ALONG
from parts.study.made.record import FOLDER

MOST_STEPS = 2000
MADE_LINES = 500
"""Lines of a make that the page shows at most: of a build with its packets the verdicts come first."""
MARK = "\ufeff"
"""What some editors begin a file with."""


class Refused(Exception):
    """What was asked for is not done; the text says why."""


class Work:
    """One part's file, opened to be changed.

    Raises:
        InputError: it cannot be read at all.
    """

    def __init__(self, file: Path, out: Path) -> None:
        self.file = file.resolve()
        self.folder = self.file.parent
        self.out = out
        self.board = Board()
        self._lock = RLock()
        self._reader = Reader(self.file)
        self._disk = content_of(self.file)
        parse_document(self._disk, str(self.file))
        self._steps = [self._disk.decode()]
        self._at = 0
        self._gesture = ""
        self._version = 0
        self._stamps = self._beside()
        self._making: subprocess.Popen[str] | None = None
        self._judging: Thread | None = None
        self._worker = _started(self.file)
        self._first: set[str] = set()
        Thread(target=self._listen, daemon=True).start()
        self._ask()

    @property
    def text(self) -> str:
        """The file as it is now."""
        return self._steps[self._at]

    @property
    def version(self) -> int:
        """How often something was asked for; answers carry it."""
        return self._version

    @property
    def unsaved(self) -> bool:
        """Whether it differs from the disk, as far as is known."""
        return self.text.encode() != self._disk

    def change(self, asked: Sequence[Mapping[str, Any]], gesture: str = "") -> None:
        """Change values.

        Args:
            asked: the changes, each as `edits_of` takes them, or `path` with `option`, or with `more`.
            gesture: names what belongs together, as the moves of one drag: it is undone in one step.

        Raises:
            NotEdited: a change has no place in the file.
        """
        with self._lock:
            text = self.text
            for one in asked:
                text = self._changed(text, one)
            if text == self.text:
                return
            if gesture and gesture == self._gesture and self._at:
                self._steps[self._at :] = [text]
            else:
                self._steps[self._at + 1 :] = [text]
                self._steps = self._steps[-MOST_STEPS:]
                self._at = len(self._steps) - 1
            self._gesture = gesture
            self._ask()

    def _changed(self, text: str, asked: Mapping[str, Any]) -> str:
        bare = text.removeprefix(MARK)
        document = parse_document(bare.encode(), str(self.file))
        path = str(asked["path"])
        if "option" in asked or asked.get("more"):
            from parts.families import families

            family = families()[str(document.data[FAMILY_KEY])]
            with suppress(InputError):
                if self._reader.build is None:
                    self._reader.warm()

            def reads(edits: Any) -> bool:
                return can_be(lambda: self._reader.part({str(self.file): edited(bare, edits)}))

            if "option" in asked:
                edits = chosen(path, str(asked["option"]), document, family, reads)
            else:
                edits = one_more(path, document, family, self._places(), self._points(), reads)
        else:
            edits = edits_of(asked, document, self._kind(path))
        new = edited(bare, edits)
        try:
            parse_document(new.encode(), str(self.file))
        except InputError as error:
            raise NotEdited(error.problems[0].wrong) from None
        return (MARK if text.startswith(MARK) else "") + new

    def _places(self) -> dict[str, list[float]]:
        """Where what lies in the plan stands, by its path [mm]."""
        plan = (self.board.get("read") or {}).get("plan") or {}
        return {one["path"]: one["at"] for one in plan.get("handles", ())}

    def _points(self) -> list[str]:
        """The load points of the part, as it was read last."""
        return list((self.board.get("read") or {}).get("points", ()))

    def _kind(self, path: str) -> str:
        """The kind of quantity that a field holds, or "text"."""
        told = self.board.get("read") or {}
        kinds = {one["path"]: one["kind"] for one in told.get("fields", ())}
        found = kinds.get(path, "")
        return found if found not in ("word", "row", "truth", "option", "list") else ""

    def undo(self) -> None:
        """Go one step back."""
        self._go(self._at - 1)

    def redo(self) -> None:
        """Go one step forward again."""
        self._go(self._at + 1)

    def _go(self, at: int) -> None:
        with self._lock:
            if not 0 <= at < len(self._steps):
                raise Refused("there is nothing more on this side")
            self._at, self._gesture = at, ""
            self._ask()

    def save(self, *, over: bool = False) -> None:
        """Write the file; one that another program changed meanwhile only where `over` asks for it.

        Raises:
            Refused: the disk holds something that was not seen here.
            OSError: the disk refused.
        """
        with self._lock:
            if not over and _content(self.file) != self._disk:
                self._say_disk()
                raise Refused("the file was changed on the disk meanwhile")
            mode = self.file.stat().st_mode if self.file.exists() else None
            content = self.text.encode()
            write_whole(self.file, content)
            if mode is not None:
                os.chmod(self.file, mode & 0o7777)
            self._disk, self._gesture = content, ""
            self._stamps = self._beside()
            self._say_state()

    def take(self) -> None:
        """Go on from what the disk says; what stood here can be gone back to."""
        with self._lock:
            content = content_of(self.file)
            parse_document(content, str(self.file))
            self._disk = content
            self._steps[self._at + 1 :] = [content.decode()]
            self._at, self._gesture = len(self._steps) - 1, ""
            self._ask(afresh=True)

    def look(self) -> None:
        """Follow what other programs save: the file itself where nothing is unsaved here, and the files beside it."""
        with self._lock:
            now = self._beside()
            if now == self._stamps:
                return
            self._stamps = now
            if _content(self.file) == self._disk:
                self._ask(afresh=True)
            elif self.unsaved:
                self._say_disk()
            else:
                with suppress(InputError):  # half written: it is looked at again when it is whole
                    self.take()

    def _beside(self) -> dict[str, tuple[int, int]]:
        found = {}
        for one in sorted(self.folder.glob("*.yaml"))[:500]:
            with suppress(OSError):
                stat = one.stat()
                found[one.name] = (stat.st_mtime_ns, stat.st_size)
        return found

    def make(self, purposes: Sequence[str], *, packet: bool = False) -> None:
        """Make the files of the part as it is saved; lines of progress go to the board.

        Raises:
            Refused: something is not saved, or a make runs.
        """
        with self._lock:
            if self.unsaved:
                raise Refused("save first: what is made is what the disk says")
            if self._making is not None and self._making.poll() is None:
                raise Refused("a make runs already")
            command = [
                sys.executable,
                "-m",
                "parts",
                "make",
                str(self.file),
                "--out",
                str(self.out),
            ]
            command += [word for one in purposes for word in ("--for", one)] + ["--packet"] * packet
            self._making = subprocess.Popen(
                command,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
                env={**environment(), READ_ALONG: "1"},
            )
            Thread(target=self._follow, args=(self._making,), daemon=True).start()

    def _follow(self, run: subprocess.Popen[str]) -> None:
        made, lines = {"stage": "made", "over": False}, ["making"]
        self.board.put({**made, "lines": lines})
        assert run.stdout is not None
        for line in run.stdout:
            lines = [*lines[-MADE_LINES:], line.rstrip()]
            self.board.put({**made, "lines": lines})
        status = run.wait()
        over = {"over": True, "status": status, "lines": lines, "files": self.files()}
        self.board.put({**made, **over})

    def measured(self, asked: Mapping[str, Any], *, keep: bool = False, over: bool = False) -> None:
        """Judge the part as it was made; what comes of it goes to the board.

        Args:
            asked: what was measured, as `files_of` takes it.
            keep: whether its record is written into the folder `made` beside the file, once it could be read.
            over: whether it may take the place of an older record of the piece.

        Raises:
            Refused: something is not saved, a judgement runs, or the record has no place.
            ValueError: a reading is no length.
        """
        with self._lock:
            if self.unsaved:
                raise Refused("save first: what is judged is what the disk says")
            sheet = self.board.get("sheet") or {}
            if sheet.get("version") != self._version:
                raise Refused("the sheet of this part is still being drawn")
            if self._judging is not None and self._judging.is_alive():
                raise Refused("a judgement runs already")
            contents = files_of(self.name, str(sheet["revision"]), asked)
            if keep:
                try:
                    contents = placed(self.folder, contents, over=over)
                except NoPlace as error:
                    raise Refused(str(error)) from None
            self._judging = Thread(target=self._judge, args=(contents, keep), daemon=True)
            self._judging.start()

    def _judge(self, contents: Mapping[str, bytes], keep: bool) -> None:
        told = judged(self.file, contents, environment())
        kept: list[str] = []
        if keep and "wrong" not in told:
            try:
                kept = [str(one.relative_to(self.folder)) for one in
                        write_all(self.folder / FOLDER, contents)]  # fmt: skip
            except OSError as error:
                told["wrong"] = f"the disk refused: {error}"
        self.board.put({"stage": "judged", **told, "kept": kept})
        if kept:
            self._say_kept()

    def _say_kept(self) -> None:
        """Tell the records that lie beside the file."""
        revision = str((self.board.get("sheet") or {}).get("revision", ""))
        self.board.put({"stage": "kept", "pieces": kept_of(self.folder, self.name, revision)})

    @property
    def name(self) -> str:
        """The part's name, once it was read."""
        return str((self.board.get("read") or {}).get("name", ""))

    def files(self) -> list[str]:
        """Names of the files that were made of the part."""
        own = self.out / self.name
        if not self.name or own.is_symlink() or not own.is_dir():
            return []
        return sorted(
            one.name
            for one in own.iterdir()
            if not one.is_symlink() and one.is_file() and not one.name.startswith(".")
        )

    def _ask(self, *, afresh: bool = False) -> None:
        """Have the newest text worked out."""
        self._version += 1
        self._say_state()
        job = {
            "version": self._version,
            "texts": {str(self.file): self.text.removeprefix(MARK)},
            "afresh": afresh,
            "keyed": (self.board.get("key") or {}).get("keyed", ""),
        }
        assert self._worker.stdin is not None
        with suppress(OSError):  # it is closing
            self._worker.stdin.write(json.dumps(job) + "\n")
            self._worker.stdin.flush()

    def _say_state(self) -> None:
        self.board.put({
            "stage": "state", "version": self._version, "file": self.file.name, "unsaved": self.unsaved,
            "undo": self._at > 0, "redo": self._at < len(self._steps) - 1, "steps": self._at,
        })  # fmt: skip

    def _say_disk(self) -> None:
        self.board.put(
            {"stage": "disk", "said": f"{self.file.name} was changed on the disk meanwhile"}
        )

    def _listen(self) -> None:
        assert self._worker.stdout is not None
        for line in self._worker.stdout:
            told = json.loads(line)
            with self._lock:
                if told["version"] != self._version:
                    continue
                if not told.get("problems") and told["stage"] not in self._first:
                    self._first.add(told["stage"])
                    self.board.put({**told, "stage": f"first {told['stage']}"})
                self.board.put(told)
                if told["stage"] == "sheet":
                    self._say_kept()

    def close(self) -> None:
        """End what works for it."""
        self.board.close()
        if self._making is not None and self._making.poll() is None:
            self._making.terminate()
        with suppress(OSError):
            assert self._worker.stdin is not None
            self._worker.stdin.close()
        try:
            self._worker.wait(5.0)
        except subprocess.TimeoutExpired:
            self._worker.kill()
            self._worker.wait()


def environment() -> dict[str, str]:
    """What a process of this one's is started with."""
    return {
        **os.environ,
        "PYTHONPATH": os.pathsep.join(filter(None, sys.path)),
        "OPENBLAS_NUM_THREADS": "1",
    }


def _started(file: Path) -> subprocess.Popen[str]:
    """The process that works out what the file comes to."""
    return subprocess.Popen(
        [sys.executable, "-m", "parts.editing.worker", str(file)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        text=True, env=environment(),
    )  # fmt: skip


def _content(file: Path) -> bytes | None:
    try:
        return content_of(file)
    except InputError:
        return None
