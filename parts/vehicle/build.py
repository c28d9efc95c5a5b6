"""A build: one file that describes the vehicle, and parts that take their dimensions and loads from it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from contextlib import suppress
from copy import copy
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.document import Document, Path_, content_of
from parts.inputs.problems import InputError
from parts.inputs.reading import BUILD_KEY, units_of, validated
from parts.vehicle.build_file import Read, ReadBuild
from parts.vehicle.build_loads import AtPoints, bodies_of, cases_at_points, cases_of
from parts.vehicle.file import agreement
from parts.vehicle.file.entries import BuildFile, SprungFile, VehicleEntry
from parts.vehicle.file.forms import nearest, resolve, words_of
from parts.vehicle.file.names import Wrong, unknown_names, unknown_to_rear
from parts.vehicle.file.places import Frame, PlaceError
from parts.vehicle.file.placing import frame_of, names_of, vehicle_of
from parts.vehicle.file.reach import any_heavy, levers_of, of_machine, on_links
from parts.vehicle.file.rear_entries import TurnbuckleEntry
from parts.vehicle.file.resolving import problem, resolved, with_entries, without, without_inner
from parts.vehicle.file.sitting import sits_wrongly
from parts.vehicle.file.taking import RANGE
from parts.vehicle.file.values import PartValues
from parts.vehicle.loads.build_case import BuildCase, on_part
from parts.vehicle.loads.ends import End, ends_of, lost
from parts.vehicle.loads.statics import FRAME, Body, OnLinks
from parts.vehicle.loads.vehicle import Vehicle, VehicleError
from parts.vehicle.loads.wheels import MOST_ON_STOP
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.rear import Rear
from parts.vehicle.rear_end.riding import RIDING, turned_with
from parts.vehicle.rear_end.stated import rear_end
from parts.vehicle.rear_end.wanted import wanted_of
from parts.vehicle.space.pivots import pivot_misfits

if TYPE_CHECKING:
    from parts.core.part import Part

OWN_FORMS = ("rear_end", "vehicle", "front_end", "bodies")
"""Groups of the build file that may take values by forms."""
CORNER_KEY = "corner"


class Build(ReadBuild):
    """A build as read from its file. What is asked for is worked out once, when it is first asked for."""

    def __init__(self, path: str | Path, source: Read = content_of) -> None:
        super().__init__(path, source)
        self._frames: dict[str, Frame | None] = {}
        self._bare: dict[str, Part] = {}
        self._parts: dict[str, Part] = {}
        self._stated: dict[str, Document] = {}
        self._resolved: dict[str, tuple[Document, dict[str, Any]]] = {}
        self._of_points: dict[bool, tuple[BuildCase, ...]] = {}
        self.taken: dict[str, set[str]] = {}
        """What was taken of each part so far, by name."""

    @cached_property
    def entry(self) -> BuildFile:
        """The whole file, its forms resolved."""
        self.document, entry = self._entered(self._own)
        return entry

    def _entered(self, own: Document) -> tuple[Document, BuildFile]:
        """The whole file with these of its groups, their forms resolved."""
        found = self._understood(own)
        root = self.document.root
        root = type(root)(
            root.line, root.column, root.text, {**root.data, **found.data}, root.size,
            {**root.children, **found.root.children}, root.keys,
        )  # fmt: skip
        document = Document(self.document.file, root)
        entry = validated(document, BuildFile)
        self._refuse_unknown(entry)
        return document, entry

    def _at_points(self, sprung: bool) -> AtPoints:
        """The build as far as loads at stated points pass it: without the range of the link and the tubes of the
        corner, which other parts give, and without the springs of levers where no lever is asked for."""
        own = without_inner(without_inner(self._own, "rear_end", RANGE), "front_end", CORNER_KEY)
        for name in () if sprung else self._levers:
            own = without_inner(own, "bodies", name, "spring")
        return AtPoints(self, self._entered(own)[1])

    @cached_property
    def _levers(self) -> Mapping[str, frozenset[str]]:
        return levers_of(self.document.data)

    @property
    def _own(self) -> Document:
        """The groups of the file that may hold forms."""
        return self._only([key for key in OWN_FORMS if key in self.document.data])

    @property
    def _moving(self) -> Document:
        """Of these, what the rear end moves by."""
        return self._only([key for key in SprungFile.model_fields if key in self.document.data])

    def _understood(self, document: Document) -> Document:
        """A part of the file with its forms resolved."""
        values, units = PartValues(self, ""), units_of(self.document)
        found, _, problems = resolved(document, lambda form: resolve(form, values, units))
        if problems:
            raise InputError(problems)
        return found

    def _refuse_unknown(self, entry: BuildFile) -> None:
        """Every hardpoint, body and link that the file names must exist, and every place fix a frame."""
        wrong = *unknown_names(entry, self.points), *sits_wrongly(entry)
        problems = [self.problem(*one) for one in wrong]
        for name in self.entries:
            try:
                self.frame(name)
            except InputError as error:
                problems += error.problems
        if problems:
            raise InputError(problems)
        self._refuse(agreement.other_wheelbase(self.hardpoints, entry))
        self._refuse(agreement.own_masses(entry))

    @cached_property
    def vehicle(self) -> Vehicle | None:
        """Masses and where they sit; None where the file states none."""
        return self.vehicle_of(self.entry)

    def vehicle_of(self, entry: BuildFile) -> Vehicle | None:
        """Masses and where they sit, of the file as read."""
        return self._vehicle(entry.vehicle)

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
        entry = validated(
            self._understood(without_inner(self._moving, "rear_end", RANGE)), SprungFile
        )
        one = entry.rear_end
        if one is None:
            return None
        self._refuse(unknown_to_rear(entry.vehicle, one, self.points))
        if entry.vehicle is not None:
            self._refuse(agreement.two_axles(self.hardpoints, entry.vehicle, one))
        try:
            rear = rear_end(
                one, self.points, self._vehicle(entry.vehicle), self._link_range,
                lambda name: self.hardpoints[name].within,
            )  # fmt: skip
            _ = rear.whole, rear.rests, rear.damped
        except LinkageError as error:
            raise self.refused(("rear_end",), "linkage", error) from None
        self._refuse(agreement.anchor_aside(self.hardpoints, one, rear.end.linkage.torsion_bar))
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
        return bodies_of(self.entry)

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
        return self._ended(self.entry, self.cases)

    def _ended(
        self, entry: BuildFile, cases: Iterable[BuildCase], only: Collection[str] | None = None
    ) -> dict[str, tuple[End, ...]]:
        found = {one.name: ends_of(one, self.entries, entry.not_modelled) for one in cases}
        if problems := [self.problem(*one) for one in lost(entry, self.entries, found, only)]:
            raise InputError(problems)
        return found

    def reaching(self, name: str) -> tuple[BuildCase, ...]:
        """The load cases that may load a part: all of them, or those at stated points where no others reach it and all
        were not asked for yet.

        Raises:
            InputError: as `ends`.
        """
        if "ends" not in vars(self) and self._at_points_alone(name):
            with suppress(InputError):  # then the whole says what is wrong
                entry = self.entries[name]
                at = {entry.body, *entry.points.values(), *entry.carries.values()}
                return self._cases_at_points(any(at & one for one in self._levers.values()))
        _ = self.ends
        return self.cases

    def _at_points_alone(self, name: str) -> bool:
        """Whether no load but those at stated points can reach a part: it belongs to a body on links, to a link, or to
        the frame where no wheel, rear end, fork or engine does anything to it; and no wheel sits on a body on links."""
        entry, data = self.entries[name], self.document.data
        by_wheels = not self._of_machine.isdisjoint(words_of(data.get("bodies", {})))
        if (
            by_wheels
            or any_heavy(data)
            or not entry.points
            or not isinstance(data.get("vehicle"), dict)
        ):
            return False
        if entry.body != FRAME:
            return entry.body in self._on_links
        return self._of_machine.isdisjoint([*entry.points.values(), *entry.carries.values()])

    @cached_property
    def _on_links(self) -> frozenset[str]:
        return on_links(self.document.data)

    @cached_property
    def _of_machine(self) -> frozenset[str]:
        return of_machine(self.document.data)

    def _cases_at_points(self, sprung: bool) -> tuple[BuildCase, ...]:
        if sprung not in self._of_points:
            at_points = self._at_points(sprung)
            cases = cases_at_points(at_points)
            self._ended(at_points.entry, cases, self._on_links)
            self._of_points[sprung] = cases
        return self._of_points[sprung]

    def frame(self, name: str, points: Mapping[str, np.ndarray] | None = None) -> Frame | None:
        """The axes of a part in the vehicle, hardpoints as drawn or elsewhere; None without a place."""
        entry, drawn = self.entries[name], self.points
        here = drawn if points is None else points
        rear = self.rear if here is not drawn and entry.body in RIDING else None
        if rear is None and any(here.get(n) is not drawn.get(n) for n in names_of(entry.place)):
            return self._frame(name, here)
        if name not in self._frames:
            self._frames[name] = self._frame(name, drawn)
        stands = self._frames[name]
        return turned_with(entry.body, stands, rear, drawn, here) if rear and stands else stands

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

    def with_document(self, name: str, document: Document) -> Build:
        """The build with another file of one part, to ask for that part alone; what takes from it stays as it was."""
        _ = self.entries
        found = copy(self)
        found._documents = {**self._documents, name: document}
        for kept in ("_frames", "_bare", "_parts", "_stated", "_resolved"):
            setattr(found, kept, {one: v for one, v in getattr(self, kept).items() if one != name})
        return found

    def bare(self, name: str) -> Part:
        """A part without the loads of the build."""
        if name not in self._bare:
            self._bare[name] = _part(self.resolved(name)[0])
        return self._bare[name]

    def loads(self, name: str) -> list[dict[str, Any]]:
        """The load cases that the build gives a part, as its file would state them."""
        entry, cases = self.entries[name], self.reaching(name)
        if not entry.points:
            return []
        self._refuse(
            agreement.unknown_points(
                name, self._index(name), entry.points, self.bare(name).points()
            )
        )
        found: list[dict[str, Any]] = []
        for case in cases:
            here = self.frame(name, case.points)
            if here is None:
                wrong, at = "a part that takes loads needs its place", ("parts", self._index(name))
                raise InputError([self.problem(at, "no_place", wrong, "write `place:`")])
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
        _ = self.reaching(name)
        document, _ = self.resolved(name)
        hand = document.data.get("hand") or getattr(self.bare(name), "hand", None)
        index, bare = self._index(name), self.bare(name)
        self._refuse(agreement.other_side(name, index, self.frame(name), hand))
        self._refuse(agreement.other_teeth(index, self.entries[name], bare, self.entry.rear_end))
        self._refuse(agreement.other_speed(index, bare, self.entry.cases))
        if misfit := [*pivot_misfits(self, name)]:
            raise InputError(misfit)
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
