"""Aircraft bolts by part number: AN3 to AN10, and the close-tolerance NAS6603 to NAS6610 of alloy steel and NAS6303
to NAS6308 of A286 stainless with a short thread."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from parts.standards.designation import (
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    nearest_sizes,
    read_table,
)
from parts.standards.fasteners.bolt_form import MPA_PER_KSI, Bolt, BoltClass
from parts.standards.threads.threads import Thread, thread

# An AN bolt is never all thread: the table starts with this grip.
_LEAST_GRIP_IN = 0.0625
_LONGEST_IN = 8.0
NEWTON_PER_LBF = 4.4482216152605

AN_STEEL = BoltClass(
    "AN steel",
    ultimate=125.0 * MPA_PER_KSI,
    shear=75.0 * MPA_PER_KSI,
    source="MIL-B-6812 (NASM6812) bolts, from memory",
)
NAS_STEEL = BoltClass(
    "NAS 160 ksi",
    ultimate=160.0 * MPA_PER_KSI,
    shear=95.0 * MPA_PER_KSI,
    source="NAS6603 thru NAS6610, 160 ksi as published; shear 95 ksi from memory",
)

A286_STEEL = BoltClass(
    "A286 160 ksi",
    ultimate=160.0 * MPA_PER_KSI,
    shear=95.0 * MPA_PER_KSI,
    source="NAS6303 thru NAS6310, A286 bolts of 160 ksi; strengths from memory",
)
_STEELS = {"alloy": NAS_STEEL, "A286": A286_STEEL}

_AN = re.compile(r"(AN\s*\d+)(H)?(C)?(?:\s*-\s*|(?<=[HC]))(\d+)(A)?", re.I)
_NAS = re.compile(r"(NAS\s*6[36]\d\d)(?:\s*-\s*|(?=D))(D)?(\d+)", re.I)


@cache
def _rows(table: str) -> dict[str, Row]:
    return {row["name"]: row for row in read_table(table)}


def aircraft_bolt(designation: str) -> Bolt | None:
    """The bolt of an AN or NAS part number; None where it is not one.

    Raises:
        UnknownDesignation: when it is one that the tables do not hold.
    """
    text = designation.strip()
    if re.match(r"NAS", text, re.I):
        return _nas(text)
    return _an(text) if re.match(r"AN\s*\d", text, re.I) else None


def _rated(name: str, area: float) -> BoltClass:
    """The class of an AN bolt, with the tension that its table rates it at, over its stress area [mm^2]."""
    row = _rows("an_strengths").get(name)
    if row is None:
        return AN_STEEL
    return AN_STEEL._replace(
        on_thread=float(row["tension_lbf"]) * NEWTON_PER_LBF / area,
        source=f"{AN_STEEL.source}; tension: {row['source']}",
    )


class NutTorques(NamedTuple):
    """Least and greatest torque [N*mm] of a nut in tension, and of a thin one that bears shear alone."""

    tension: tuple[float, float]
    shear: tuple[float, float]
    source: str


def nut_torques(of: Thread) -> NutTorques | None:
    """Published torques of the nut on an aircraft bolt of a thread, dry; None where there are none."""
    size = f"{of.size.removeprefix('#')}-{of.tpi}"
    for row in read_table("aircraft_torques"):
        if row["thread"] == size:
            low, high, thin_low, thin_high = (
                float(row[f"{name}_inlbf"]) * NEWTON_PER_LBF * MM_PER_INCH
                for name in ("tension_low", "tension_high", "shear_low", "shear_high")
            )
            return NutTorques((low, high), (thin_low, thin_high), row["source"])
    return None


def dash_length_in(dash: int) -> float | None:
    """Length [in] that an AN dash number says: 7 is 7/8, 14 is 1-4/8; None for 8, 9, 18, ..."""
    whole, eighths = divmod(dash, 10)
    return whole + eighths / 8.0 if eighths < 8 else None


def _an(text: str) -> Bolt:
    found = _AN.fullmatch(text)
    if not found:
        raise UnknownDesignation(
            "bolt", text, "an AN bolt is written with its dash number", ["AN6-14", "AN6-14A"]
        )
    name = re.sub(r"\s", "", found[1]).upper()
    row = _rows("bolts_an").get(name)
    if row is None:
        sizes = {known: float(known[2:]) for known in _rows("bolts_an")}
        near = nearest_sizes(float(name[2:]), sizes)
        raise UnknownDesignation(
            "bolt", text, f"{name} is not in the table", [f"{size}-{found[4]}" for size in near]
        )
    mark = f"{name}{(found[2] or '').upper()}{(found[3] or '').upper()}"
    tail = (found[5] or "").upper()
    dash = int(found[4])
    nominal = dash_length_in(dash)
    if not row["grip_less_in"]:
        similar = f"NAS66{int(name[2:]):02d}"
        wanted = max(round(8 * (nominal or 1.0)), 1)
        raise UnknownDesignation(
            "bolt",
            text,
            f"the grips of {name} are not in the table; a close-tolerance bolt of its thread is",
            [f"{similar}-{wanted}"],
        )
    first = int(row["first_dash"])
    if nominal is None or dash < first or nominal > _LONGEST_IN:
        able = {
            f"{mark}-{known}{tail}": float(known)
            for known in range(first, int(10 * _LONGEST_IN) + 1)
            if dash_length_in(known) is not None
        }
        raise UnknownDesignation(
            "bolt",
            text,
            "the dash number says inches and eighths, so it ends in 0 to 7, "
            f"from {first} to {10 * _LONGEST_IN:.0f}",
            nearest_sizes(float(dash), able),
        )
    less, more = float(row["grip_less_in"]), float(row["length_more_in"])
    grip = max(nominal - less, _LEAST_GRIP_IN)
    shank = float(row["shank_max_in"]) * MM_PER_INCH
    return Bolt(
        designation=f"{mark}-{dash}{tail}",
        head="hex",
        thread=thread(row["thread"]),
        length=(grip + less + more) * MM_PER_INCH,
        grip=grip * MM_PER_INCH,
        shank=shank,
        # AN bolts: diameter tolerance 0.003 in, below the greatest.
        shank_min=shank - 0.003 * MM_PER_INCH,
        wrench=float(row["across_flats_in"]) * MM_PER_INCH,
        head_diameter=None,
        head_height=None,
        strength=_rated(name, thread(row["thread"]).stress_area),
        source=row["source"],
    )


def _nas(text: str) -> Bolt:
    found = _NAS.fullmatch(text)
    name = re.sub(r"\s", "", found[1]).upper() if found else ""
    row = _rows("bolts_nas").get(name)
    if not found or row is None:
        raise UnknownDesignation(
            "bolt", text, "the close-tolerance bolts are NAS6603 to NAS6610 and NAS6303 to NAS6308",
            ["NAS6606-14", "NAS6306-14"],
        )  # fmt: skip
    sixteenths = int(found[3])
    longest = int(16 * _LONGEST_IN)
    if not 1 <= sixteenths <= longest:
        within = min(max(sixteenths, 1), longest)
        raise UnknownDesignation(
            "bolt", text, f"the dash number is the grip in sixteenths, 1 to {longest}",
            [f"{name}-{within}"],
        )  # fmt: skip
    inch = {
        column: float(row[f"{column}_in"]) * MM_PER_INCH
        for column in ("shank_min", "shank_max", "across_flats", "head_height", "thread_length")
    }
    grip = sixteenths / 16.0 * MM_PER_INCH
    drilled = (found[2] or "").upper()
    return Bolt(
        designation=f"{name}-{drilled}{sixteenths}",
        head="hex",
        thread=thread(row["thread"]),
        length=grip + inch["thread_length"],
        grip=grip,
        shank=inch["shank_max"],
        shank_min=inch["shank_min"],
        wrench=inch["across_flats"],
        head_diameter=None,
        head_height=inch["head_height"],
        strength=_STEELS[row["steel"]],
        source=row["source"],
    )
