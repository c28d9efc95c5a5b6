"""A coupon of holes for the builder's own printer: print it, measure it, and the allowance follows."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from parts.making.labelling import Label
from parts.making.lettering import extent

SIZES = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0)
"""Holes of the coupon [mm]."""
THICK = 8.0
WALL = 5.0
LETTER = 4.0
WORST = 1.5
"""No printer is off by more than this [mm]; common practice, no source."""
SCATTER = 0.1
"""Errors that differ by more than this from their mean are not an allowance alone [mm]."""
_PAIR = re.compile(r"\s*(\d+(?:\.\d+)?)\s*=\s*(\d+(?:\.\d+)?)\s*")


class GaugeError(ValueError):
    """What was measured cannot be right, or cannot be read."""


@dataclass(frozen=True)
class Measured:
    """What the coupon says: the allowance on the diameter [mm], and the largest departure from it [mm]."""

    sizes: Mapping[float, float]
    allowance: float
    scatter: float

    @property
    def steady(self) -> bool:
        """True where one allowance fits all holes."""
        return self.scatter <= SCATTER


def coupon() -> Any:
    """The coupon: a bar with a row of holes through it, each with its size beside it.

    Returns:
        A CadQuery Solid that stands on z = 0.
    """
    import cadquery as cq

    from parts.making.print.engrave import DEPTH, grooves

    tall = max(SIZES) + 2.0 * WALL + 2.0 * LETTER
    wide = WALL
    centres = []
    for size in SIZES:
        room = max(size, extent((f"{size:g}",), LETTER)[0])
        centres.append(wide + room / 2.0)
        wide += room + WALL
    bar = cq.Solid.makeBox(wide, tall, THICK)
    middle = WALL + max(SIZES) / 2.0
    up = cq.Vector(0.0, 0.0, 1.0)
    holes = [
        cq.Solid.makeCylinder(size / 2.0, THICK, cq.Vector(x, middle, 0.0), up)
        for size, x in zip(SIZES, centres, strict=True)
    ]
    axes = np.array([(0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)])
    letters = [
        groove
        for size, x in zip(SIZES, centres, strict=True)
        for groove in grooves(
            Label((f"{size:g}",), np.zeros(2), 0.0, LETTER),
            np.array([x, tall - 1.2 * LETTER, THICK]), axes, DEPTH,
        )
    ]  # fmt: skip
    return bar.cut(*holes).cut(*letters)


def measured(text: str) -> Measured:
    """Read what was measured on the coupon, as in `3.0=2.84, 5.0=4.86`, in millimetres.

    Args:
        text: pairs of nominal and measured diameter.

    Returns:
        The allowance: the mean of what the holes lack.

    Raises:
        GaugeError: it cannot be read, or no printer is off so far.
    """
    sizes: dict[float, float] = {}
    for pair in filter(str.strip, text.split(",")):
        found = _PAIR.fullmatch(pair)
        if found is None:
            raise GaugeError(
                f"{pair.strip()!r} is no measurement; write `3.0=2.84, 5.0=4.86`, in mm"
            )
        nominal, got = float(found[1]), float(found[2])
        if abs(nominal - got) > WORST:
            raise GaugeError(
                f"a hole of {nominal:g} mm measured as {got:g} mm is off by more than {WORST:g} mm: measure "
                "it again, or mend the printer first"
            )
        if nominal in sizes:
            raise GaugeError(f"the hole of {nominal:g} mm is given twice; give each hole once")
        sizes[nominal] = got
    if len(sizes) < 2:
        raise GaugeError("at least two holes are needed, as in `3.0=2.84, 5.0=4.86`")
    lacking = np.array([nominal - got for nominal, got in sizes.items()])
    mean = float(lacking.mean())
    return Measured(sizes, round(mean, 3), float(np.abs(lacking - mean).max()))


def printer_text(before: str, found: Measured) -> str:
    """The printer's file with the allowance set; whatever else it says stays.

    Args:
        before: text of the file so far; empty where there is none.
        found: what the coupon says.

    Returns:
        The text to write.
    """
    pairs = ", ".join(f"{nominal:g}={got:g}" for nominal, got in found.sizes.items())
    line = f"hole_allowance: {found.allowance:g} mm   # from the hole gauge, mm: {pairs}"
    if not before.strip():
        return f"{_HEAD}{line}\n"
    rows = before.splitlines()
    at = [i for i, row in enumerate(rows) if row.startswith("hole_allowance:")]
    kept: Sequence[str] = [row for i, row in enumerate(rows) if i not in at[1:]]
    if not at:
        return "\n".join([*kept, line]) + "\n"
    return "\n".join(line if row is rows[at[0]] else row for row in kept) + "\n"


_HEAD = """\
# The printer in this shop. Every part's fit-up print takes what it does not say itself from here.
# What may stand here: plastic, bed, hole_allowance, shrink, deposition, fill, tapped, teardrop, overhang,
# foot_chamfer, keys, key_clearance; lengths with their units.
"""


def store(path: Path, found: Measured) -> None:
    """Write the allowance into the printer's file, and hold the file against what may stand in it.

    Raises:
        InputError: the file says something else that cannot be used; it is left as it was.
        OSError: the disk refused.
    """
    from parts.core.shop import PrintFit
    from parts.inputs.document import parse_document
    from parts.inputs.reading import validated
    from parts.making.writing import write_whole

    text = printer_text(path.read_text("utf-8") if path.exists() else "", found)
    validated(parse_document(text.encode(), str(path)), PrintFit)
    write_whole(path, text.encode())


def gauge_text() -> str:
    """How the coupon is used."""
    sizes = ", ".join(f"{size:g}" for size in SIZES)
    return (
        "Hole gauge\n\n"
        f"1. Print gauge.stl or gauge.3mf flat, as it lies, with the plastic and settings of your prints.\n"
        f"2. Let it cool, and measure its holes of {sizes} mm: by drill shanks or caliper.\n"
        "3. Type what you found:\n"
        '   oneoff gauge --measured "3.0=2.84, 5.0=4.86"\n'
        "   That writes the allowance to params/printer.yaml (or where --printer says), and every later\n"
        "   print enlarges its holes by it. A hole_allowance under print_fit holds for that part alone.\n"
    )
