"""A file of readings, read and adjusted."""

from __future__ import annotations

import difflib
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np

from parts.inputs.document import Document, parse_document
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import validated, wanted_as
from parts.vehicle.file.hardpoints import Hardpoint
from parts.vehicle.file.resolving import problem
from parts.vehicle.survey.adjustment import Adjustment
from parts.vehicle.survey.entries import Bought, SurveyFile
from parts.vehicle.survey.holes import holes_of
from parts.vehicle.survey.misreadings import Misreading, without_misreadings
from parts.vehicle.survey.observations import SIGMAS, Observation, observations


@dataclass(frozen=True)
class Survey:
    """The readings of a file with the places that follow from them."""

    document: Document
    file: SurveyFile

    @cached_property
    def observations(self) -> list[Observation]:
        """The readings and what is given of the set-up, as equations."""
        return observations(self.file, lambda path: self.document.place(path)[0], self.drawn)

    @cached_property
    def drawn(self) -> dict[str, dict[str, np.ndarray]]:
        """Of each bought thing, where its drawing has its holes [mm], by point.

        Raises:
            InputError: its file is wrong, or has no hole of a number.
        """
        return {name: self._drawn(name, one) for name, one in self.file.bought.items()}

    @property
    def drawings(self) -> tuple[Path, ...]:
        """The drawings of bought things that it takes holes from."""
        return tuple(map(self._beside, self.file.bought.values()))

    def _beside(self, one: Bought) -> Path:
        return Path(self.document.file).parent / one.file

    def _drawn(self, name: str, one: Bought) -> dict[str, np.ndarray]:
        found = {h.number: h for h in holes_of(self._beside(one), one.scale)}
        wrong = [
            problem(self.document, ("bought", name, "holes", point), "no_hole", f"{one.file} has no hole {number}",
                    f"it has {len(found)}; `oneoff readings {one.file}` lists them")
            for point, number in one.holes.items() if number not in found
        ]  # fmt: skip
        twice = [p for p, n in Counter(one.holes.values()).items() if n > 1]
        if twice:
            wrong.append(problem(self.document, ("bought", name, "holes"), "twice",
                                 f"hole {twice[0]} is at two points", "give each point its own"))  # fmt: skip
        if wrong:
            raise InputError(wrong)
        return {point: np.array(found[number].at) for point, number in one.holes.items()}

    @cached_property
    def _found(self) -> tuple[Adjustment, list[Misreading]]:
        known = {name: np.array(at) for name, at in self.file.known.items()}
        about = {name: np.array(at) for name, at in self.file.about.items()}
        return without_misreadings(self.observations, known, about)

    @property
    def adjustment(self) -> Adjustment:
        """Of the readings that agree."""
        return self._found[0]

    @property
    def misreadings(self) -> list[Misreading]:
        """The readings that contradict the rest."""
        return self._found[1]

    @property
    def sound(self) -> bool:
        """Whether every point has one place, and the readings agree on it."""
        one = self.adjustment
        return one.determined and not one.others and one.agrees and not self.misreadings

    def misspelt(self) -> dict[str, str]:
        """Points that are named once and much like another: the name meant, by the name written."""
        count = Counter(p for one in self.file.taken for p in _points(one))
        count.update(p for one in self.file.set_up for p in one.points)
        count.update(p for one in self.file.bought.values() for p in one.holes)
        known = [*self.file.known, *(p for p, n in count.items() if n > 1)]
        near = {p: difflib.get_close_matches(p, known, 1, 0.7)
                for p, n in count.items() if n == 1 and p not in self.file.known}  # fmt: skip
        return {p: found[0] for p, found in near.items() if found}

    def hardpoints(self) -> dict[str, Hardpoint]:
        """The points as hardpoints of a build, each known to the longest half axis of its 95 % ellipsoid.

        Raises:
            InputError: a point has no place, or two; or readings contradict each other.
        """
        if wrong := list(self._wrong()):
            raise InputError(wrong)
        one = self.adjustment
        return {
            name: Hardpoint(
                name, np.asarray(at, float), one.within(name) if name in one.unknown else 0.0
            )
            for name, at in one.places.items()
        }

    def _wrong(self) -> list[Problem]:
        one, document = self.adjustment, self.document
        found = [
            Problem("misreading", document.file, m.observation.line, 1, "taken", "", misreading_words(m),
                    "read it again, or take it out" + _or_else(m))
            for m in self.misreadings
        ]  # fmt: skip
        spelt = self.misspelt()
        for name in one.unknown:
            if one.open_at(name).size:
                right = (
                    f"`{spelt[name]}` may be meant" if name in spelt else "see `oneoff readings`"
                )
                found.append(problem(document, ("taken",), "open_point",
                                     f"the readings do not say where `{name}` is", right))  # fmt: skip
        if one.others:
            moved = [n for n in one.unknown
                     if any(np.linalg.norm(o[n] - one.places[n]) > 1.0 for o in one.others)]  # fmt: skip
            found.append(problem(document, ("about",), "two_places",
                                 f"the readings allow two places of {', '.join(moved)}",
                                 "say roughly where, as in `about: {" + moved[0] + ": [-480, 0, 320]}`"))  # fmt: skip
        if not found and not one.agrees:
            found.append(problem(document, ("taken",), "readings_differ",
                                 "the readings differ by more than their errors, and no single one is to blame",
                                 "state wider errors as `within:`, or read again"))  # fmt: skip
        return found


def _points(one: object) -> tuple[str, ...]:
    between = getattr(one, "between", None)
    return tuple(between) if between else (str(getattr(one, "of", "")),)


def misreading_words(one: Misreading) -> str:
    """What is wrong with a reading, in one clause."""
    o = one.observation
    if np.isnan(one.should):
        return f"{o.name} contradicts the rest"
    should, error = amount(one.should, o.unit), amount(SIGMAS * one.error, o.unit)
    said = f"{o.name} is {amount(o.value, o.unit)}, the others say {should}, give or take {error}"
    return said + (f" ({' or '.join(one.slips)})" if one.slips else "")


def _or_else(one: Misreading) -> str:
    lines = ", ".join(str(o.line) for o in one.or_else)
    return f"; it could as well be the reading of line {lines}" if lines else ""


def amount(value: float, unit: str) -> str:
    """A length in mm or an angle in degrees."""
    shown = np.round(np.degrees(value) if unit == "rad" else value, 2) + 0.0
    return f"{shown:.2f} {'deg' if unit == 'rad' else unit}"


def survey_of(content: bytes, file: str) -> Survey:
    """Read a file of readings.

    Args:
        content: of the file.
        file: its name, for messages.

    Raises:
        InputError: with every problem of the file.
    """
    document = parse_document(content, file)
    wanted_as(document, "readings")
    read = validated(document, SurveyFile)
    wrong = [
        problem(document, ("taken", i), "same_point", "both ends are one point", "name two points")
        for i, one in enumerate(read.taken)
        if len(set(_points(one))) < len(_points(one))
    ]
    wrong += [
        problem(
            document,
            ("set_up", i, "points"),
            "same_point",
            "a point is named twice",
            "name each once",
        )
        for i, one in enumerate(read.set_up)
        if len(set(one.points)) < len(one.points)
    ]
    named = {p for one in read.taken for p in _points(one)}
    named |= {p for one in read.set_up for p in one.points}
    named |= {p for one in read.bought.values() for p in one.holes}
    wrong += [
        problem(
            document,
            ("about", name),
            "unknown_point",
            "no reading names this point",
            "name one that is read",
        )
        for name in read.about
        if name not in named
    ]
    if wrong:
        raise InputError(wrong)
    survey = Survey(document, read)
    _ = survey.drawn
    return survey
