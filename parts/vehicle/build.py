"""A build: one file that describes the vehicle, and parts that take their dimensions and loads from it."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.inputs.document import Document, Path_, content_of, parse_document
from parts.inputs.names import PartName
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import units_of, validated
from parts.vehicle.build_loads import cases_of
from parts.vehicle.file.agreement import other_side, other_wheelbase, two_axles, unknown_points
from parts.vehicle.file.entries import BuildFile, HardpointEntry, PartEntry, VehicleEntry
from parts.vehicle.file.forms import forms_in, nearest, owners_of, resolve
from parts.vehicle.file.hardpoints import Hardpoint, placed
from parts.vehicle.file.names import Wrong, unknown_names, unknown_to_rear
from parts.vehicle.file.places import Frame, PlaceError
from parts.vehicle.file.placing import frame_of, names_of, vehicle_of
from parts.vehicle.file.rear_entries import RearEndEntry, TurnbuckleEntry
from parts.vehicle.file.references import CircularReference, in_order
from parts.vehicle.file.resolving import problem, resolved, with_entries, without, without_inner
from parts.vehicle.file.taking import RANGE, references_of
from parts.vehicle.file.values import PartValues
from parts.vehicle.loads.build_case import BuildCase, on_part
from parts.vehicle.loads.cases import body_of
from parts.vehicle.loads.ends import End, ends_of, lost
from parts.vehicle.loads.statics import FRAME, Body, OnLinks
from parts.vehicle.loads.vehicle import Vehicle, VehicleError
from parts.vehicle.loads.wheels import MOST_ON_STOP
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.rear import BODIES, Rear, rear_end
from parts.vehicle.rear_end.wanted import wanted_of

if TYPE_CHECKING:
    from parts.core.part import Part

BUILD_KEY = "build"
OWN_FORMS = ("rear_end", "vehicle", "front_end")
"""Groups of the build file that may take values by forms."""
Read = Callable[[Path], bytes]


class _First(Group):
    """What is read of a build file before any form is resolved."""

    build: PartName
    survey: str = ""
    hardpoints: dict[str, HardpointEntry] = Field(default_factory=dict)
    parts: list[PartEntry] = Field(min_length=1, max_length=200)


class _Sprung(Group):
    """What of a build file the rear end moves by."""

    rear_end: RearEndEntry | None = None
    vehicle: VehicleEntry | None = None


class Build:
    """A build as read from its file. What is asked for is worked out once, when it is first asked for."""

    def __init__(self, path: str | Path, source: Read = content_of) -> None:
        self.path = Path(path)
        self._read: dict[Path, bytes] = {}
        self._source = source
        self.document = parse_document(self._content(self.path), str(self.path))
        self._frames: dict[str, Frame | None] = {}
        self._bare: dict[str, Part] = {}
        self._parts: dict[str, Part] = {}
        self._stated: dict[str, Document] = {}
        self._resolved: dict[str, tuple[Document, dict[str, Any]]] = {}
        _ = self.order

    def _content(self, file: Path) -> bytes:
        self._read[file] = self._source(file)
        return self._read[file]

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
        if not isinstance(data, dict):
            raise InputError([problem(self.document, (), "not_a_group", "the file is no group of keys",
                                      "begin with `build:` and `hardpoints:`")])  # fmt: skip
        if "family" in data:
            raise InputError([problem(self.document, ("family",), "not_a_build", "this is the file of a part",
                                      "name the build's file")])  # fmt: skip
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

    @cached_property
    def _surveyed(self) -> dict[str, Hardpoint]:
        named = self._first.survey
        if not named:
            return {}
        from parts.vehicle.survey.survey import survey_of

        file = self.path.parent / named
        if not file.is_file():
            raise InputError([self.problem(("survey",), "no_file", f"there is no file {file}",
                                       "name the file of the readings, as in `survey: readings.yaml`")])  # fmt: skip
        return survey_of(self._content(file), str(file)).hardpoints()

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

    @cached_property
    def entry(self) -> BuildFile:
        """The whole file, its forms resolved."""
        found = self._understood(self._own)
        root = self.document.root
        root = type(root)(
            root.line, root.column, root.text, {**root.data, **found.data}, root.size,
            {**root.children, **found.root.children}, root.keys,
        )  # fmt: skip
        self.document = Document(self.document.file, root)
        entry = validated(self.document, BuildFile)
        self._refuse_unknown(entry)
        return entry

    @property
    def _own(self) -> Document:
        """The groups of the file that may hold forms."""
        return self._only([key for key in OWN_FORMS if key in self.document.data])

    @property
    def _moving(self) -> Document:
        """Of these, what the rear end moves by."""
        return self._only([key for key in _Sprung.model_fields if key in self.document.data])

    def _understood(self, document: Document) -> Document:
        """A part of the file with its forms resolved."""
        values, units = PartValues(self, ""), units_of(self.document)
        found, _, problems = resolved(document, lambda form: resolve(form, values, units))
        if problems:
            raise InputError(problems)
        return found

    def _refuse_unknown(self, entry: BuildFile) -> None:
        """Every hardpoint, body and link that the file names must exist, and every place fix a frame."""
        problems = [self.problem(*one) for one in unknown_names(entry, self.points)]
        for name in self.entries:
            try:
                self.frame(name)
            except InputError as error:
                problems += error.problems
        if problems:
            raise InputError(problems)
        self._refuse(other_wheelbase(self.hardpoints, entry))

    @cached_property
    def vehicle(self) -> Vehicle | None:
        """Masses and where they sit; None where the file states none."""
        return self._vehicle(self.entry.vehicle)

    def _vehicle(self, one: VehicleEntry | None) -> Vehicle | None:
        if one is None:
            return None
        try:
            vehicle = vehicle_of(one, self.points)
            vehicle.stands()
        except VehicleError as error:
            path = ("vehicle", error.key) if error.key else ("vehicle",)
            raise self.refused(path, "vehicle", error) from None
        return vehicle

    @cached_property
    def rear(self) -> Rear | None:
        """The rear end, solved through its travel over the range of its link; None where the file states none."""
        rear = self.sprung
        if rear is not None:
            try:
                _ = rear.turnbuckle, rear.adjusted, rear.settings
            except LinkageError as error:
                raise self.refused(("rear_end", RANGE), "linkage", error) from None
        return rear

    @cached_property
    def sprung(self) -> Rear | None:
        """The rear end without a look at the range of its link, so that the link itself may take from it."""
        entry = validated(self._understood(without_inner(self._moving, "rear_end", RANGE)), _Sprung)
        one = entry.rear_end
        if one is None:
            return None
        if wrong := [*unknown_to_rear(entry.vehicle, one, self.points)]:
            raise InputError([self.problem(*each) for each in wrong])
        if entry.vehicle is not None:
            self._refuse(two_axles(self.hardpoints, entry.vehicle, one))
        try:
            rear = rear_end(
                one, self.points.__getitem__, self._vehicle(entry.vehicle), self._link_range,
                lambda name: self.hardpoints[name].within,
            )  # fmt: skip
            _ = rear.whole, rear.rests, rear.damped
        except LinkageError as error:
            raise self.refused(("rear_end",), "linkage", error) from None
        try:
            wanted_of(rear)
        except LinkageError as error:
            raise self.refused(("rear_end", "wanted"), "wanted", error) from None
        return rear

    def _refuse(self, wrong: Iterable[Wrong]) -> None:
        if problems := [self.problem(*one) for one in wrong]:
            raise InputError(problems)

    def _index(self, name: str) -> int:
        return list(self.entries).index(name)

    def _link_range(self) -> TurnbuckleEntry | None:
        entry = self.entry.rear_end
        return None if entry is None else entry.turnbuckle

    def refused(self, path: Path_, code: str, error: ValueError) -> InputError:
        wrong, _, right = str(error).rstrip(".").partition("; ")
        return InputError([self.problem(path, code, wrong, right)])

    @cached_property
    def bodies(self) -> tuple[Body | OnLinks, ...]:
        """Bodies on a hinge and a link, or on six links."""
        return tuple(
            body_of(name, one, self.entry.links) for name, one in self.entry.bodies.items()
        )

    @cached_property
    def cases(self) -> tuple[BuildCase, ...]:
        """Every load case, carried to the bodies."""
        return cases_of(self)

    @cached_property
    def ends(self) -> dict[str, tuple[End, ...]]:
        """Every body and joint that each load case passes, and what takes the load there.

        Raises:
            InputError: a load, a body or a part's load point ends nowhere.
        """
        entry = self.entry
        found = {one.name: ends_of(one, self.entries, entry.not_modelled) for one in self.cases}
        if problems := [self.problem(*one) for one in lost(entry, self.entries, found)]:
            raise InputError(problems)
        return found

    def frame(self, name: str, points: Mapping[str, np.ndarray] | None = None) -> Frame | None:
        """The axes of a part in the vehicle, hardpoints as drawn or elsewhere; None without a place."""
        place, drawn = self.entries[name].place, self.points
        here = drawn if points is None else points
        if here is not drawn and any(here.get(n) is not drawn.get(n) for n in names_of(place)):
            return self._frame(name, here)
        if name not in self._frames:
            self._frames[name] = self._frame(name, drawn)
        return self._frames[name]

    def _frame(self, name: str, points: Mapping[str, np.ndarray]) -> Frame | None:
        place = self.entries[name].place
        if place is None:
            return None
        index = self._index(name)
        try:
            return frame_of(place, points)
        except KeyError as unknown:
            wrong = f"there is no hardpoint `{unknown.args[0]}`"
            right = nearest(str(unknown.args[0]), self.points)
            raise InputError(
                [self.problem(("parts", index, "place"), "unknown_hardpoint", wrong, right)]
            ) from None
        except PlaceError as error:
            raise self.refused(("parts", index, "place"), "place", error) from None

    def resolved(self, name: str) -> tuple[Document, dict[str, Any]]:
        """A part's file, its forms resolved, without loads of the build; and the values taken by path."""
        if name not in self._resolved:
            written = self.written(name)
            units = units_of(written)
            values = PartValues(self, name)
            document, taken, problems = resolved(
                without(written, BUILD_KEY), lambda form: resolve(form, values, units)
            )
            if problems:
                raise InputError(problems)
            self._resolved[name] = document, taken
        return self._resolved[name]

    def written(self, name: str) -> Document:
        """A part's file as it is written."""
        _ = self.entries
        return self._documents[name]

    def bare(self, name: str) -> Part:
        """A part without the loads of the build."""
        if name not in self._bare:
            self._bare[name] = _part(self.resolved(name)[0])
        return self._bare[name]

    def loads(self, name: str) -> list[dict[str, Any]]:
        """The load cases that the build gives a part, as its file would state them."""
        entry, _ = self.entries[name], self.ends
        if not entry.points:
            return []
        self._refuse(
            unknown_points(name, self._index(name), entry.points, self.bare(name).points())
        )
        found: list[dict[str, Any]] = []
        for case in self.cases:
            here = self.frame(name, case.points)
            if here is None:
                index = list(self.entries).index(name)
                wrong = "a part that takes loads needs its place"
                raise InputError(
                    [self.problem(("parts", index), "no_place", wrong, "write `place:`")]
                )
            given = [one["forces"] for one in found]
            found += [
                one
                for one in on_part(case, entry, here)
                if not (MOST_ON_STOP in one["name"] and one["forces"] in given)
            ]
        return found

    def stated(self, name: str) -> Document:
        """A part's file with everything that the build gives it."""
        if name not in self._stated:
            self._stated[name] = self._with_loads(name)
        return self._stated[name]

    def _with_loads(self, name: str) -> Document:
        _ = self.entry
        document, _ = self.resolved(name)
        hand = document.data.get("hand") or getattr(self.bare(name), "hand", None)
        self._refuse(other_side(name, self._index(name), self.frame(name), hand))
        cases = self.loads(name)
        own = document.data.get("loads")
        for i, one in enumerate(own if isinstance(own, list) else []):
            if isinstance(one, dict) and one.get("name") in [case["name"] for case in cases]:
                raise InputError([problem(document, ("loads", i, "name"), "same_name",
                                          f"the build gives this part a load case {one['name']!r} too",
                                          "give this one another name, or delete it")])  # fmt: skip
        return with_entries(document, "loads", cases) if cases else document

    def part(self, name: str) -> Part:
        """A part with everything that the build gives it."""
        if name not in self._parts:
            # The build adds loads alone, so that all else stands that may have been read without them.
            self._parts[name] = _part(self.stated(name), self._bare.get(name))
        return self._parts[name]


def _part(document: Document, known: Part | None = None) -> Part:
    from parts.families import families
    from parts.inputs.reading import read_parsed

    return read_parsed(document, families(), known)


__all__ = ["BODIES", "FRAME", "Build"]
