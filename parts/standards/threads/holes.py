"""What a thread asks of the metal around it: tap drill, clearance hole, relief. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from parts.standards.designation import UnknownDesignation, nearest_names, read_table
from parts.standards.threads.drills import Drill, drill, drills, nearest
from parts.standards.threads.limits import FULL_THREAD_DROP, Gender, ThreadLimits

DEFAULT_THREAD_PERCENT = 75.0  # common practice, no source: the usual depth for machine tapping

_FIT_COLUMNS = {
    "close": "close", "normal": "normal", "loose": "loose",
    "fine": "close", "medium": "normal", "coarse": "loose",
}  # fmt: skip

# Sizes that differ by less than this [mm] are the same size, computed in two ways.
_SAME = 1e-6


class TapDrill(NamedTuple):
    """The hole before tapping [mm] and the stock drill nearest to it.

    Attributes:
        hole: diameter that gives just the percentage asked for.
        drill: the stock drill nearest to `hole`.
        percent: percentage of thread which that drill really gives.
        minor_min: least minor diameter in the internal class `tolerance_class`.
        minor_max: largest minor diameter in that class.
        in_limits: True where the drill lies between those two.
        instead: where it does not, the nearest stock drill of any kind that does, if there is one.
    """

    asked_percent: float
    hole: float
    drill: Drill
    percent: float
    tolerance_class: str
    minor_min: float
    minor_max: float
    in_limits: bool
    instead: Drill | None

    @property
    def taken(self) -> Drill:
        """The drill that a shop takes: the nearest, or the one instead where that is out of the limits."""
        return self.drill if self.in_limits or self.instead is None else self.instead


@dataclass(frozen=True)
class ClearanceHole:
    """The hole that a bolt passes through [mm]; the least size, tolerances go upward."""

    diameter: float
    fit: str
    drill: str
    source: str


class Relief(NamedTuple):
    """The undercut where a thread ends [mm].

    Attributes:
        diameter: of the undercut: under the root of a bolt, over the thread of a nut.
        clear_width: least width at full depth (g1 or f1 of the standard).
        total_width: greatest width with the run-out to the thread (g2 or f2).
        radius: fillet at the foot.
    """

    diameter: float
    clear_width: float
    total_width: float
    radius: float
    gender: Gender
    form: str
    source: str


def tap_drill(
    major: float, pitch: float, limits: ThreadLimits, percent: float, kinds: tuple[str, ...]
) -> TapDrill:
    """The tap drill of a thread; see `Thread.tap_drill`.

    Args:
        major: basic major diameter [mm].
        pitch: [mm].
        limits: of the internal thread, to hold the drill against.
        percent: percentage of full thread, over 0 to 100.
        kinds: kinds of stock drill to choose from.

    Raises:
        UnknownDesignation: when the percentage is out of range; kind "tap drill".
    """
    if not 0 < percent <= 100:
        raise UnknownDesignation(
            "tap drill", f"{percent:g} %", "a thread has over 0 and up to 100 %", ["75 %"]
        )
    full = FULL_THREAD_DROP * pitch
    hole = major - percent / 100 * full
    stock = nearest(hole, kinds)
    least, most = limits.minor_min or 0.0, limits.minor_max  # an internal thread always has both
    in_limits = least - _SAME <= stock.diameter <= most + _SAME
    instead = None
    if not in_limits:
        fitting = [each for each in drills() if least - _SAME <= each.diameter <= most + _SAME]
        instead = min(fitting, key=lambda e: abs(e.diameter - hole), default=None)
    return TapDrill(
        asked_percent=percent,
        hole=hole,
        drill=stock,
        percent=100 * (major - stock.diameter) / full,
        tolerance_class=limits.tolerance_class,
        minor_min=least,
        minor_max=most,
        in_limits=in_limits,
        instead=instead,
    )


def clearance_hole(size: str, fit: str) -> ClearanceHole:
    """The clearance hole of a screw size such as "3/8", "10" or "M10"; see `Thread.clearance_hole`.

    Raises:
        UnknownDesignation: when fit or size is unknown; kind "clearance hole".
    """
    column = _FIT_COLUMNS.get(fit.strip().casefold())
    if column is None:
        raise UnknownDesignation(
            "clearance hole", fit, "there is no such fit", ("close", "normal", "loose")
        )
    rows = read_table("clearance_holes")
    for row in rows:
        if row["size"] == size:
            return ClearanceHole(drill(row[column]).diameter, column, row[column], row["source"])
    metric = size.startswith("M")
    same_system = (row["size"] for row in rows if row["size"].startswith("M") == metric)
    raise UnknownDesignation(
        "clearance hole",
        size,
        f"{'ISO 273' if metric else 'ASME B18.2.8'} has no such size",
        nearest_names(size, same_system),
    )


def relief(major: float, pitch: float, gender: Gender, form: str) -> Relief:
    """The thread undercut of DIN 76-1; see `Thread.relief`.

    Args:
        major: basic major diameter [mm].
        pitch: [mm].
        gender: "external" or "internal".
        form: "regular" or "short".

    Raises:
        UnknownDesignation: when the form is unknown or no row bounds the pitch; kind "relief".
    """
    if form not in ("regular", "short"):
        raise UnknownDesignation("relief", form, "there is no such form", ("regular", "short"))
    prefix, step, sign = ("inner_", "above_mm", 1) if gender == "internal" else ("", "below_mm", -1)
    rows = read_table("thread_reliefs")
    in_table = any(abs(float(row["pitch_mm"]) - pitch) < _SAME for row in rows)
    return Relief(
        diameter=major + sign * _by_pitch(pitch, step),
        clear_width=_by_pitch(pitch, f"{prefix}clear_{form}_mm"),
        total_width=_by_pitch(pitch, f"{prefix}total_{form}_mm"),
        radius=_by_pitch(pitch, "radius_mm"),
        gender=gender,
        form=form,
        source=rows[0]["source"] + ("" if in_table else ", interpolated by pitch"),
    )


def _by_pitch(pitch: float, column: str) -> float:
    """A column of the reliefs at a pitch [mm], straight between the rows beside it."""
    rows = read_table("thread_reliefs")
    for low, high in pairwise(rows):
        p0, p1 = float(low["pitch_mm"]), float(high["pitch_mm"])
        if p0 <= pitch <= p1:
            v0, v1 = float(low[column]), float(high[column])
            return v0 + (v1 - v0) * (pitch - p0) / (p1 - p0)
    least, most = rows[0]["pitch_mm"], rows[-1]["pitch_mm"]
    reason = f"the undercuts held go from a pitch of {least} mm to {most} mm"
    raise UnknownDesignation("relief", f"pitch {pitch:g} mm", reason)
