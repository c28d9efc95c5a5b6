"""The files of a part's flat blanks: DXF of each, DXF of the nest, unrolled ends of tubes, and the sheet with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

import numpy as np

from parts.core.blank import Blank
from parts.core.cautions import IN_SHORT
from parts.core.part import Part
from parts.making.flat.dxf import Turned, dxf_bytes
from parts.making.flat.findings import findings
from parts.making.flat.nest import nest
from parts.making.flat.profile import Profile, dense, profile
from parts.making.flat.sheet import Laid, flat_text
from parts.making.flat.unrolled import unrolled_dxf
from parts.making.labelling import Label, best_label
from parts.making.shortfall import warned
from parts.shapes.cut import contour, cut
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.making.model import Made

SAME = 1e-6
"""How far the area of the blank may differ from the section of the solid [-]: rounding only."""
LETTER = (2.5, 8.0)
"""Least and most height of the engraved part number [mm]."""
CLEAR = 3.0
"""How far the engraving keeps from every cut [mm]."""
LIGHT = ("aluminium", "titanium")


def flat_files(made: Made) -> Mapping[str, bytes]:
    """DXF of every blank and of its nest, of every coped tube's ends unrolled, and `flat.txt`.

    Args:
        made: the part.

    Returns:
        The files by name; only the text, which says so, for a part that is no plate.

    Raises:
        MakeError: a blank is not the section of the solid.
    """
    part = made.result.part
    files: dict[str, bytes] = {}
    laid = []
    blanks = part.blanks()
    for i, blank in enumerate(blanks, 1):
        base = part.name if len(blanks) == 1 else f"{part.name}-{i}"
        _held(part, blank)
        one = lay_out(part, blank, base)
        laid.append(one)
        files[f"{base}-flat.dxf"] = dxf_bytes(
            one.profile, one.label, notes(part, blank), folds=blank.folds
        )
        files |= _sheets(part, one)
    files |= _tubes(part)
    return {**files, "flat.txt": warned(flat_text(part, laid), made.result).encode()}


def _tubes(part: Part) -> Mapping[str, bytes]:
    """Ends of its coped tubes, for a laser with a rotary axis."""
    tubes = [
        one for drawn in part.drawn() for one in drawn.tubes if any(e.saddle for e in one.ends)
    ]
    head = [f"{part.name}  revision {part.revision}  {part.title}".rstrip(), part.metal.name]
    return {
        f"{part.name}{'' if len(tubes) == 1 else f'-{i}'}-unrolled.dxf": unrolled_dxf(one, head)
        for i, one in enumerate(tubes, 1)
    }


def lay_out(part: Part, blank: Blank, base: str) -> Laid:
    """Everything that is known of a blank before it is drawn."""
    cutting = part.cutting
    made = profile(blank, cutting)
    low, high = made.outline().box()
    size = float(high[0] - low[0]), float(high[1] - low[1])
    placed = nest(size, cutting.copies * len(blank.pieces), cutting.sheet, cutting.spacing)
    light = part.metal.family in LIGHT
    rules = findings(blank, cutting, made, light=light, size=size)
    return Laid(base, blank, made, _label(part, made), placed, size, tuple(rules))


def notes(part: Part, blank: Blank) -> list[str]:
    """The lines that stand beside a blank."""
    count = part.cutting.copies * len(blank.pieces)
    return [
        f"{part.name}  revision {part.revision}  {part.title}".rstrip(),
        f"{part.metal.name}, {blank.thickness:.2f} mm, {count} off, millimetres, full size",
        "PILOT holes are finished after cutting; ENGRAVE is never cut through",
        *blank.bends,
        IN_SHORT,
    ]


def _label(part: Part, made: Profile) -> Label | None:
    loops = [dense(one.loop, 1.0) for one in made.cuts]
    loops += [dense(hole.circle().loops[0], 1.0) for hole in made.marks]
    layouts = [(part.name,)]
    if "-" in part.name[1:-1]:
        words = part.name.split("-")
        half = (len(words) + 1) // 2
        layouts.append(("-".join(words[:half]) + "-", "-".join(words[half:])))
    return best_label(loops, layouts, clear=CLEAR, least=LETTER[0], most=LETTER[1])


def _sheets(part: Part, one: Laid) -> Iterator[tuple[str, bytes]]:
    low = one.profile.outline().box()[0]
    for i, spots in enumerate(one.nest.sheets, 1):
        places = [_turned(spot.x, spot.y, low, one.size[1], spot.turned) for spot in spots]
        number = "" if len(one.nest.sheets) == 1 else f"-{i}"
        said = [f"{part.name}: sheet {i} of {len(one.nest.sheets)}, {len(spots)} copies"]
        yield (
            f"{one.name}-nest{number}.dxf",
            dxf_bytes(
                one.profile,
                one.label,
                [*said, *notes(part, one.blank)[1:]],
                places,
                part.cutting.sheet,
                one.blank.folds,
            ),
        )


def _turned(x: float, y: float, low: np.ndarray, high: float, turned: bool) -> Turned:
    """Move a blank so that the lower left corner of its box, turned or not, lies at x and y."""
    if turned:
        return Turned((x + float(low[1]) + high, y - float(low[0])), True)
    return Turned((x - float(low[0]), y - float(low[1])))


def _held(part: Part, blank: Blank) -> None:
    """Hold the finished figure against the section of the solid through the middle of the plate. The figure of a bent
    plate, which is as long as the middle of its sheet, is held against the solid's volume."""
    from parts.making.model import MakeError

    # Of a bent one the volume: its edges are broken after.
    sharp = part if blank.bent is None else part.model_copy(update={"edge_break": 0.0})
    solid = next(piece for piece in sharp.pieces if piece.name == blank.pieces[0]).solid
    low, high = blank.outline.box()
    if blank.bent is None:
        found = float(properties(contour(cut(solid, blank.origin, blank.axes), low, high)).area)
    else:
        found = solid.val().Volume() / blank.thickness
    difference = abs(found / float(properties(blank.finished()).area) - 1.0)
    if not difference <= SAME:
        raise MakeError(
            f"{part.name}: the flat blank differs from the solid's section by {difference:.2e} of its area, "
            f"where {SAME:.0e} is allowed; report these dimensions as a fault of the library"
        )
