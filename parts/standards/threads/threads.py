"""Screw threads by designation: unified inch (No. 4 to 1-1/2 in) and ISO metric (M3 to M36).

`thread("3/8-24 UNF-2B LH")` gives the basic sizes; its methods give limits, tap drill, clearance
hole and relief. Lengths in mm, areas in mm^2.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal

from parts.standards.designation import (
    MM_PER_INCH,
    UnknownDesignation,
    inches,
    nearest_names,
    read_table,
)
from parts.standards.threads import limits as profile
from parts.standards.threads.drills import INCH_KINDS, METRIC_KINDS
from parts.standards.threads.holes import (
    DEFAULT_THREAD_PERCENT,
    ClearanceHole,
    Relief,
    TapDrill,
    clearance_hole,
    relief,
    tap_drill,
)
from parts.standards.threads.limits import INCH_CLASSES, METRIC_CLASSES, Gender, ThreadLimits

KIND = "thread"
Hand = Literal["right", "left"]

# Rod ends, bolts and the like are sold by these classes when a drawing names none.
_USUAL_CLASS: dict[tuple[bool, Gender], str] = {
    (True, "external"): "2A", (True, "internal"): "2B",
    (False, "external"): "6g", (False, "internal"): "6H",
}  # fmt: skip

# Decimal inch sizes on drawings are cut to three places: .312 for 5/16.
_SIZE_ROUNDING_IN = Fraction(5, 10000)

_COARSEST = 6.0
"""Largest pitch of a metric thread [mm], ISO 261: what is written after the `x` and is more, is a length."""
_SMALLEST_BARE_NUMBER = 4  # "10-32" is No. 10, "1-12" is 1 in

_HAND = re.compile(
    r"[\s,\-]+(?:(?P<left>l\.?h\.?|left(?:[\s-]*hand)?)|r\.?h\.?|right(?:[\s-]*hand)?)\s*$", re.I
)
_METRIC = re.compile(
    r"M\s*(?P<size>\d+(?:\.\d+)?)(?:\s*x\s*(?P<pitch>\d*\.?\d+))?(?:\s*-\s*|\s+|$)"
    r"(?P<cls>\d[A-Za-z])?",
    re.I,
)
_INCH = re.compile(
    r"(?P<size>(?:\#|no\.?|nr\.?)\s*\d+|\d+(?:\s*-\s*|\s+)\d+/\d+|\d+/\d+|\d*\.\d+|\d+)"
    r"\s*(?:\"|''|in\.?|inch)?(?:\s*[-x]\s*|\s+)(?P<tpi>\d+)"
    r"(?:\s*-?\s*(?P<series>UN[A-Z]*))?(?:(?:\s*-\s*|\s+)(?P<cls>\d[A-Za-z]))?",
    re.I,
)


@dataclass(frozen=True)
class Thread:
    """A screw thread at its basic (design) size [mm, mm^2].

    Attributes:
        designation: canonical; `thread(designation)` gives this record again.
        basic: the same without class and hand.
        size: "3/8", "10" (a numbered size) or "M10".
        series: UNC, UNF, UNEF, UN, UNS; coarse or fine.
        minor_external: root of the bolt: d - 1.190785 P (inch), d3 = d - 1.226869 P (metric).
        minor_internal: D1 = D - 1.082532 P.
        stress_area: tensile stress area of the bolt.
        tpi: threads per inch; None on a metric thread.
        tolerance_class: as designated, or None.
        gender: "external" or "internal" where the class says so.
    """

    designation: str
    basic: str
    standard: str
    size: str
    series: str
    major: float
    pitch: float
    pitch_diameter: float
    minor_external: float
    minor_internal: float
    stress_area: float
    tpi: int | None
    hand: Hand
    tolerance_class: str | None
    gender: Gender | None
    source: str

    @property
    def is_inch(self) -> bool:
        return self.tpi is not None

    def external(self, tolerance_class: str | None = None) -> ThreadLimits:
        """Limits of the bolt [mm]; without a class its own, else 2A or 6g.

        Raises:
            UnknownDesignation: when the class is none of a bolt in this system; kind "thread".
        """
        return self._limits("external", tolerance_class)

    def internal(self, tolerance_class: str | None = None) -> ThreadLimits:
        """Limits of the nut or tapped hole [mm]; without a class its own, else 2B or 6H.

        Raises:
            UnknownDesignation: when the class is none of a nut in this system; kind "thread".
        """
        return self._limits("internal", tolerance_class)

    def called(self, gender: Gender) -> str:
        """As a drawing calls it out, with its class, the hand last: `3/8-24 UNF-2B-LH`, `M10x1.5-6g`.

        Source: ASME B1.1 and ISO 965-1, designation; both put LH behind the tolerance class.
        """
        return f"{self.basic}-{self._limits(gender, None).tolerance_class}{self.hand_mark}"

    @property
    def hand_mark(self) -> str:
        """What a designation ends in: nothing for a right-hand thread."""
        return "-LH" if self.hand == "left" else ""

    def _limits(self, gender: Gender, tolerance_class: str | None) -> ThreadLimits:
        own = self.tolerance_class if self.gender == gender else None
        wanted = tolerance_class or own or _USUAL_CLASS[self.is_inch, gender]
        known, its_gender = _checked_class(self, wanted, self.designation)
        if its_gender != gender:
            right = [c for c, g in _classes(self.is_inch).items() if g == gender]
            raise UnknownDesignation(
                KIND, f"{self.basic}-{known}", f"{known} is no {gender} class", right
            )
        if self.tpi is None:
            return profile.metric_limits(self.major, self.pitch, known)
        major_in = round(self.major / MM_PER_INCH, 6)
        return profile.inch_limits(major_in, self.tpi, self.series, known)

    def tap_drill(
        self, percent: float = DEFAULT_THREAD_PERCENT, kinds: tuple[str, ...] | None = None
    ) -> TapDrill:
        """The tap drill for a percentage of full thread (full: 1.299038 P off the major diameter).

        Args:
            percent: percentage of thread, over 0 to 100; 75 unless stated.
            kinds: kinds of stock drill; inch kinds for an inch thread, metric for a metric one.

        Raises:
            UnknownDesignation: when the percentage is out of range; kind "tap drill".
        """
        stock = kinds or (INCH_KINDS if self.is_inch else METRIC_KINDS)
        return tap_drill(self.major, self.pitch, self.internal(), percent, stock)

    def clearance_hole(self, fit: str = "normal") -> ClearanceHole:
        """The clearance hole "close", "normal" or "loose" (ISO 273: fine, medium, coarse).

        Raises:
            UnknownDesignation: when the fit is unknown or the standard leaves the size out; kind
                "clearance hole".
        """
        return clearance_hole(self.size, fit)

    def relief(self, gender: Gender | None = None, form: str = "regular") -> Relief:
        """The thread undercut of DIN 76-1 for this pitch.

        A pitch between two rows, as every inch pitch is, takes straight interpolation between them
        (common practice, no source); a pitch outside the table is refused. An undercut bolt is
        weakest in its undercut: check that section, not the thread.

        Args:
            gender: "external" or "internal"; without it the thread's own, else external.
            form: "regular" (A, C) or "short" (B, D).

        Raises:
            UnknownDesignation: when the form is unknown or no row bounds the pitch; kind "relief".
        """
        return relief(self.major, self.pitch, gender or self.gender or "external", form)


def _basic_thread(
    *, basic: str, size: str, series: str, major: float, pitch: float, tpi: int | None, source: str
) -> Thread:
    inch = tpi is not None
    root = profile.ROOT_DROP_INCH if inch else profile.ROOT_DROP_METRIC
    stress = profile.STRESS_DROP_INCH if inch else profile.STRESS_DROP_METRIC
    return Thread(
        designation=basic,
        basic=basic,
        standard="ASME B1.1" if inch else "ISO 261, ISO 965-1",
        size=size,
        series=series,
        major=major,
        pitch=pitch,
        pitch_diameter=major - profile.PITCH_DIAMETER_DROP * pitch,
        minor_external=major - root * pitch,
        minor_internal=major - profile.MINOR_DROP * pitch,
        stress_area=math.pi / 4 * (major - stress * pitch) ** 2,
        tpi=tpi,
        hand="right",
        tolerance_class=None,
        gender=None,
        source=source,
    )


@cache
def _inch_threads() -> tuple[Thread, ...]:
    return tuple(
        _basic_thread(
            basic=f"{row['size']}-{row['tpi']} {row['series']}",
            size=row["size"],
            series=row["series"],
            major=float(Fraction(row["major_in"]) * 254 / 10),
            pitch=MM_PER_INCH / int(row["tpi"]),
            tpi=int(row["tpi"]),
            source=row["source"],
        )
        for row in read_table("threads_inch")
    )


@cache
def _metric_threads() -> tuple[Thread, ...]:
    return tuple(
        _basic_thread(
            basic=f"M{row['major_mm']}x{row['pitch_mm']}",
            size=f"M{row['major_mm']}",
            series=row["series"],
            major=float(row["major_mm"]),
            pitch=float(row["pitch_mm"]),
            tpi=None,
            source=row["source"],
        )
        for row in read_table("threads_metric")
    )


def threads() -> tuple[Thread, ...]:
    """Every thread of the tables, without class and right-handed; inch first, by size and pitch."""
    return _inch_threads() + _metric_threads()


def thread(designation: str) -> Thread:
    """The thread of a designation as standards and benches write it.

    It reads "3/8-24", "3/8-24 UNF-2A LH", ".375-24", "10-32", "#10-32 UNF", "1-1/4-12", "M10" (the
    coarse pitch), "M10x1.25", "M10 x 1.25 - 6g", "M10x1.25-6H LH", "M10x1.25 left hand".

    Raises:
        UnknownDesignation: when it is in no table or contradicts itself; kind "thread".
    """
    return _thread(" ".join(designation.replace("\u00d7", "x").split()), designation)


@lru_cache(maxsize=4096)
def _thread(text: str, given: str) -> Thread:
    hand_mark = _HAND.search(text)
    body = text[: hand_mark.start()] if hand_mark else text
    hand: Hand = "left" if hand_mark and hand_mark["left"] else "right"
    if found := _METRIC.fullmatch(body.replace(",", ".")):
        base = _metric_row(found["size"], found["pitch"], given)
    elif found := _INCH.fullmatch(body):
        base = _inch_row(found["size"], int(found["tpi"]), found["series"], given)
    else:
        raise UnknownDesignation(
            KIND,
            given,
            "it is no thread designation; right would be 3/8-24 UNF-2A or M10x1.25-6g",
            nearest_names(body, (each.basic for each in threads())),
        )
    known, gender = (None, None)
    if found["cls"]:
        known, gender = _checked_class(base, found["cls"], given)
    name = base.basic + (f"-{known}" if known else "") + ("-LH" if hand == "left" else "")
    made = replace(base, designation=name, hand=hand, tolerance_class=known, gender=gender)
    if gender:
        made._limits(gender, known)  # refuses a class that the standard lacks for this pitch
    return made


def _metric_row(size: str, pitch: str | None, given: str) -> Thread:
    major = float(size)
    same = [each for each in _metric_threads() if each.major == major]
    if not same:
        by_size = sorted(_metric_threads(), key=lambda e: (abs(e.major - major), -e.pitch))
        near = dict.fromkeys(each.size for each in by_size)
        raise UnknownDesignation(KIND, given, f"the tables have no M{major:g}", list(near)[:3])
    if pitch is None:
        coarse = [each for each in same if each.series == "coarse"]
        if coarse:
            return coarse[0]
        reason = f"M{major:g} has no coarse pitch, so the pitch must be given"
        raise UnknownDesignation(KIND, given, reason, [each.basic for each in same][:3])
    wanted = float(pitch)
    for each in same:
        if each.pitch == wanted:
            return each
    same.sort(key=lambda e: abs(e.pitch - wanted))
    reason = f"M{major:g} has no pitch of {wanted:g} mm"
    if wanted > _COARSEST:
        reason += ", and a bolt's length is no part of a thread"
    raise UnknownDesignation(KIND, given, reason, [each.basic for each in same][:3])


def _inch_row(size: str, tpi: int, series: str | None, given: str) -> Thread:
    bare_number = size.isdecimal() and int(size) >= _SMALLEST_BARE_NUMBER
    try:
        major_in = inches(f"No. {size}" if bare_number else size)
    except UnknownDesignation as error:
        raise UnknownDesignation(KIND, given, error.reason) from None
    same = [e for e in _inch_threads() if _is_size(e, major_in)]
    if not same:
        raise UnknownDesignation(
            KIND,
            given,
            f"the tables have no inch thread of {float(major_in):.4g} in",
            _names(sorted(_inch_threads(), key=lambda e: _miss(e, major_in, tpi))),
        )
    fitting = [each for each in same if each.tpi == tpi]
    wanted = series.upper() if series else None
    if not fitting:
        near = sorted(same, key=lambda e: (e.series != wanted, abs((e.tpi or 0) - tpi)))
        reason = f"{same[0].size} has no {tpi} threads per inch"
        raise UnknownDesignation(KIND, given, reason, _names(near))
    if wanted and fitting[0].series != wanted:
        near = [e for e in same if e.series == wanted] + fitting
        reason = f"{same[0].size}-{tpi} is {fitting[0].series}, not {wanted}"
        raise UnknownDesignation(KIND, given, reason, _names(near))
    return fitting[0]


def _is_size(each: Thread, major_in: Fraction) -> bool:
    return abs(each.major - float(major_in) * MM_PER_INCH) <= float(_SIZE_ROUNDING_IN) * 25.4 + 1e-9


def _miss(each: Thread, major_in: Fraction, tpi: int) -> tuple[float, int]:
    return abs(each.major - float(major_in) * MM_PER_INCH), abs((each.tpi or 0) - tpi)


def _names(ranked: Iterable[Thread]) -> list[str]:
    return [each.basic for each in ranked][:3]


def _classes(inch: bool) -> dict[str, Gender]:
    return INCH_CLASSES if inch else METRIC_CLASSES


def _checked_class(base: Thread, written: str, given: str) -> tuple[str, Gender]:
    """A tolerance class in its system's spelling, and whether it is of a bolt or a nut."""
    known = written.upper() if base.is_inch else written
    classes = _classes(base.is_inch)
    if known in classes:
        return known, classes[known]
    inside = written[-1].isupper() if base.is_inch else written[-1] in "Bb"
    gender: Gender = "internal" if inside else "external"
    right = [f"{base.basic}-{each}" for each, its in classes.items() if its == gender]
    if base.is_inch and written in METRIC_CLASSES:
        reason = f"{written} is a class of metric threads"
    elif not base.is_inch and written.upper() in INCH_CLASSES:
        reason = f"{written.upper()} is a class of inch threads"
    else:
        right = [f"{base.basic}-{each}" for each in nearest_names(written, classes)]
        reason = f"the tables have no class {written}"
    raise UnknownDesignation(KIND, given, reason, right[:3])
