"""The file of a build as it is read: its hardpoints, the files of its parts, and what hangs on what."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.inputs.document import Document, Path_, content_of, parse_document
from parts.inputs.names import PartName
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import BUILD_KEY, validated, wanted_as
from parts.vehicle.file.entries import BuildFile, HardpointEntry, PartEntry
from parts.vehicle.file.forms import forms_in, nearest, owners_of
from parts.vehicle.file.hardpoints import Hardpoint, placed
from parts.vehicle.file.references import CircularReference, in_order
from parts.vehicle.file.resolving import problem, without
from parts.vehicle.file.taking import references_of

if TYPE_CHECKING:
    from parts.vehicle.survey.survey import Survey

Read = Callable[[Path], bytes]


class _First(Group):
    """What is read of a build file before any form is resolved."""

    build: PartName
    survey: str = ""
    hardpoints: dict[str, HardpointEntry] = Field(default_factory=dict)
    parts: list[PartEntry] = Field(min_length=1, max_length=200)


class ReadBuild:
    """The file of a build with the files of its parts: hardpoints, entries, and what hangs on what."""

    def __init__(self, path: str | Path, source: Read = content_of) -> None:
        self.path = Path(path)
        self._read: dict[Path, bytes] = {}
        self._source = source
        self.document = parse_document(self._content(self.path), str(self.path))
        _ = self.order

    def _content(self, file: Path) -> bytes:
        self._read[file] = self._source(file)
        return self._read[file]

    @property
    def files(self) -> tuple[Path, ...]:
        """Every file that was read."""
        return tuple(self._read)

    @property
    def stands(self) -> bool:
        """Whether every file that was read still says what it said then."""
        try:
            return all(self._source(file) == content for file, content in self._read.items())
        except InputError:
            return False

    @cached_property
    def _first(self) -> _First:
        return validated(self._only(tuple(_First.model_fields)), _First)

    def _only(self, keys: Iterable[str]) -> Document:
        data = self.document.data
        wanted_as(self.document, "build")
        known = [*BuildFile.model_fields, "units"]
        # A misspelt `units` alone would have every length of the file told.
        if unknown := [self._misspelt(key, known) for key in data if key not in known]:
            raise InputError(unknown)
        return without(self.document, *(k for k in data if k not in (*keys, "units")))

    def _misspelt(self, key: str, known: list[str]) -> Problem:
        line, column = self.document.place((key,), of_key=True)
        free = [one for one in known if one not in self.document.data]
        return Problem("unknown_key", self.document.file, line, column, key, "",
                       f"`{key}` is no key here", nearest(key, free))  # fmt: skip

    @property
    def name(self) -> str:
        """The build's name."""
        return self._first.build

    @cached_property
    def hardpoints(self) -> dict[str, Hardpoint]:
        """The hardpoints by name."""
        found = placed(self._first.hardpoints, self.document, self._surveyed)
        if not found:
            raise InputError([self.problem((), "no_hardpoint", "there is no hardpoint",
                                       "state some under `hardpoints:`, or name readings as `survey:`")])  # fmt: skip
        return found

    @property
    def _surveyed(self) -> dict[str, Hardpoint]:
        return {} if self.survey is None else self.survey.hardpoints()

    def read_together(self, points: Iterable[str]) -> tuple[list[str], np.ndarray]:
        """Which of some hardpoints follow from readings, and their covariance [mm2], shape (3 n, 3 n)."""
        if self.survey is None:
            return [], np.zeros((0, 0))
        of = self.survey.adjustment
        own = [one for one in points if one in of.unknown and one not in self._first.hardpoints]
        rows = [3 * of.unknown.index(one) + k for one in own for k in range(3)]
        return own, of.covariance[np.ix_(rows, rows)]

    @cached_property
    def survey(self) -> Survey | None:
        """The readings that hardpoints follow from; None without any."""
        named = self._first.survey
        if not named:
            return None
        from parts.vehicle.survey.survey import survey_of

        file = self.path.parent / named
        if not file.is_file():
            raise InputError([self.problem(("survey",), "no_file", f"there is no file {file}",
                                       "name the file of the readings, as in `survey: readings.yaml`")])  # fmt: skip
        survey = survey_of(self._content(file), str(file))
        for drawing in survey.drawings:
            self._content(drawing)
        return survey

    @cached_property
    def points(self) -> dict[str, np.ndarray]:
        """Places of the hardpoints, as drawn [mm]."""
        return {name: one.at for name, one in self.hardpoints.items()}

    @cached_property
    def entries(self) -> dict[str, PartEntry]:
        """The entry of each part, by the part's name."""
        found: dict[str, PartEntry] = {}
        for i, entry in enumerate(self._first.parts):
            file = self._file(entry)
            try:
                document = parse_document(self._content(file), str(file))
            except InputError as error:
                if error.problems[0].code != "no_file":
                    raise
                raise InputError([self.problem(("parts", i, "file"), "no_file", f"there is no file {file}",
                                           "name a part's file beside this one")]) from None  # fmt: skip
            name = document.data.get("name") if isinstance(document.data, dict) else None
            name = str(name) if name is not None else file.stem
            if name.casefold() == self.name.casefold():
                # Both would lay out a page of that folder.
                raise InputError([self.problem(("build",), "same_name", f"a part of it is called {name!r} too",
                                           "give the build another name")])  # fmt: skip
            if name.casefold() in [one.casefold() for one in found]:
                raise InputError([self.problem(("parts", i, "file"), "same_name",
                                           f"another part of the build is called {name!r} too",
                                           "give each its own name")])  # fmt: skip
            self._refuse_of_another(document, file)
            found[name] = entry
            self._documents[name] = document
        return found

    def _refuse_of_another(self, document: Document, file: Path) -> None:
        """A part that says which build it takes from must not be read through another without a word."""
        own = document.data.get(BUILD_KEY) if isinstance(document.data, dict) else None
        if isinstance(own, str) and (file.parent / own).resolve() != self.path.resolve():
            raise InputError([problem(document, (BUILD_KEY,), "other_build",
                                      f"{self.path} lists this part, which says that it is of another build",
                                      f"write `build: {os.path.relpath(self.path, file.parent)}`, or take it off that "
                                      "list")])  # fmt: skip

    @cached_property
    def _documents(self) -> dict[str, Document]:
        return {}

    def _file(self, entry: PartEntry) -> Path:
        return self.path.parent / entry.file

    def file_of(self, name: str) -> Path:
        """The file of a part."""
        return self._file(self.entries[name])

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the parts, in the order of the file."""
        return tuple(self.entries)

    def problem(self, path: Path_, code: str, wrong: str, right: str) -> Problem:
        return problem(self.document, path, code, wrong, right)

    @cached_property
    def references(self) -> dict[str, tuple[str, ...]]:
        """What each part, the rear end and each hardpoint takes its dimensions from."""
        parts = {
            name: (one.place, self._documents[name].data) for name, one in self.entries.items()
        }
        return references_of(self.hardpoints, self.document.data, parts)

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Parts, rear end and hardpoints, each after what it takes from."""
        try:
            return in_order(self.references)
        except CircularReference as error:
            first = next(name for name in error.circle if name in self.entries)
            document = self._documents[first]
            following = error.circle[error.circle.index(first) + 1]
            path = next(
                (p for p, form in forms_in(document.data) if following in owners_of(form)), ()
            )
            raise InputError(
                [
                    problem(
                        document, path, "circular_reference",
                        f"parts take their dimensions from each other in a circle: {error}",
                        "write one of these dimensions as a number",
                    )
                ]
            ) from None  # fmt: skip
