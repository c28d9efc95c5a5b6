"""A folder of parts of which several are opened to be changed; new ones are begun from the families."""

from __future__ import annotations

import base64
import subprocess
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Lock, RLock
from typing import Any

from parts.editing.work import Refused, Work, environment
from parts.inputs.document import LARGEST_FILE, read_document
from parts.inputs.problems import InputError
from parts.inputs.reading import BUILD_KEY, FAMILY_KEY, read_text

MOST = 6
"""Parts that are open at once: each has a process of its own."""


@dataclass(frozen=True)
class Filed:
    """A file of the folder: its name, what it is called, and its family, empty of a build."""

    name: str
    title: str
    family: str


class Shelf:
    """The folder, and what is open of it."""

    def __init__(self, folder: Path, out: Path, first: str = "") -> None:
        self.folder = folder.resolve()
        self.out = out.resolve()
        self.first = first
        self._works: dict[str, Work] = {}
        self._lock = RLock()
        self._drawing = Lock()
        self._pictures: dict[str, bytes] = {}
        self._painter: subprocess.Popen[str] | None = None

    def names(self) -> list[str]:
        """Names of the YAML files that lie in the folder itself; a link that leads out of it is none."""
        found = (one for one in sorted(self.folder.glob("*.y*ml"))[:500] if one.is_file())
        return [one.name for one in found if one.resolve().parent == self.folder]

    def filed(self) -> list[Filed]:
        """What of it is a part or a build."""
        found = []
        for name in self.names():
            file = self.folder / name
            with suppress(InputError, OSError):
                data = read_document(file).data if file.stat().st_size < LARGEST_FILE else None
                if isinstance(data, dict) and (FAMILY_KEY in data or BUILD_KEY in data):
                    named = data.get("name") or data.get(BUILD_KEY)
                    title = f"{named} {data.get('title') or ''}".strip()
                    found.append(Filed(name, title, str(data.get(FAMILY_KEY, ""))))
        return found

    def work(self, name: str) -> Work:
        """The file of that name, opened.

        Raises:
            Refused: it is no file of the folder, or too many are open with unsaved changes.
            InputError: it cannot be read.
        """
        with self._lock:
            if name not in self._works:
                if name not in self.names():
                    raise Refused("there is no such file in the folder")
                self._make_room()
                self._works[name] = Work(self.folder / name, self.out)
            # The one asked for last stands last.
            self._works[name] = self._works.pop(name)
            return self._works[name]

    def _make_room(self) -> None:
        if len(self._works) < MOST:
            return
        idle = next((name for name, one in self._works.items() if not one.unsaved), None)
        if idle is None:
            raise Refused(f"{MOST} parts are open and unsaved; write one of them first")
        self._works.pop(idle).close()

    def new(self, family: str, name: str) -> str:
        """Begin a part: a commented file that makes a valid part at once.

        Args:
            family: its family.
            name: its part number; the file is called so in small letters.

        Returns:
            The name of the file.

        Raises:
            Refused: there is such a file, or no such family.
            InputError: the name is none for a part.
        """
        from parts.families import families
        from parts.making.writing import write_whole
        from parts.report.starter import starter

        known = families()
        if family not in known:
            raise Refused(f"there is no family `{family}`")
        name = " ".join(name.split())
        if not name:
            raise Refused("write a part number first")
        text = starter(known[family], name=name)
        read_text(text, known, "the new part")
        file = self.folder / f"{name.lower().replace(' ', '-')}.yaml"
        if file.parent.resolve() != self.folder or file.exists() or file.is_symlink():
            raise Refused(f"{file.name} is there already; give the part another name")
        write_whole(file, text.encode())
        return file.name

    def picture(self, family: str) -> bytes | None:
        """A picture of a family's example, drawn once, one at a time; None where there is none."""
        from parts.families import families

        if family not in families():
            return None
        with self._drawing:
            if family not in self._pictures:
                self._pictures[family] = self._drawn(family)
            return self._pictures[family] or None

    def _drawn(self, family: str) -> bytes:
        """A picture from the process that draws, which is started by the first one asked for."""
        if self._painter is None or self._painter.poll() is not None:
            self._painter = subprocess.Popen(
                [sys.executable, "-c", DRAW], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL, text=True, env=environment(),
            )  # fmt: skip
        assert self._painter.stdin is not None and self._painter.stdout is not None
        try:
            self._painter.stdin.write(f"{family}\n")
            self._painter.stdin.flush()
        except OSError:
            return b""
        return base64.b64decode(self._painter.stdout.readline())

    def close(self) -> None:
        """End all that is open."""
        if self._painter is not None:
            self._painter.kill()
            self._painter.communicate()
        with self._lock:
            for one in self._works.values():
                one.close()
            self._works.clear()

    def __enter__(self) -> Shelf:
        return self

    def __exit__(self, *_: Any) -> None:
        self.close()


DRAW = """
import base64, sys
from parts.core import kernel
from parts.families import families
from parts.making.picture import picture
kernel.needed()
for line in sys.stdin:
    family = families()[line.strip()]
    part = family.model_validate(dict(family.example))
    drawn = picture([one.solid for one in part.pieces], width=480, height=320)
    print(base64.b64encode(drawn).decode(), flush=True)
"""
