"""What goes with the DXF to the shop that cuts: `flat.txt`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.core.blank import Blank
from parts.core.cautions import CAUTIONS
from parts.core.part import Part
from parts.core.rules import Rule
from parts.making.flat.dxf import LAYERS
from parts.making.flat.findings import taper_note
from parts.making.flat.nest import Nest
from parts.making.flat.profile import Profile
from parts.making.labelling import Label

WIDTH = 100
MM_PER_M = 1e3


@dataclass(frozen=True)
class Laid:
    """A blank with all that is known before it is drawn; `size` is that of its box [mm]."""

    name: str
    blank: Blank
    profile: Profile
    label: Label | None
    nest: Nest
    size: tuple[float, float]
    rules: tuple[Rule, ...]

    @property
    def broken(self) -> list[Rule]:
        return [rule for rule in self.rules if not rule.ok]


def flat_text(part: Part, laid: Sequence[Laid]) -> str:
    """Lay out the sheet of a part's blanks.

    Args:
        part: the part.
        laid: its blanks; none where it is no plate.

    Returns:
        Text of at most 100 columns.
    """
    head = f"{part.name} {part.title}, revision {part.revision}: flat blanks in {part.metal.name}"
    lines = [*textwrap.wrap(head, WIDTH), ""]
    if not laid and any(one.tubes for one in part.drawn()):
        lines.append(
            "This part is a tube: `-unrolled.dxf` holds its ends, for a laser that turns it."
        )
    elif not laid:
        lines.append("This part is no plate: there is nothing to cut flat.")
    for one in laid:
        lines += [*_blank(part, one), "", *_holes(one), *_rules(one), *_nest(part, one), ""]
    if laid:
        lines += [
            "Layers:",
            *(f"  {name:<8} {meaning}" for name, (_, meaning) in LAYERS.items()),
            "",
        ]
        lines += _list("Cautions", _cautions(part, laid))
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _blank(part: Part, one: Laid) -> Iterator[str]:
    blank, made = one.blank, one.profile
    mass = made.area * blank.thickness * part.metal.density
    length = sum(cut.length for cut in made.cuts) / MM_PER_M
    yield f"{one.name}-flat.dxf, for {', '.join(blank.pieces)}"
    yield f"  thickness   {blank.thickness:.3f} mm"
    yield f"  size        {one.size[0]:.2f} x {one.size[1]:.2f} mm"
    yield f"  area        {made.area:.1f} mm^2, as cut"
    yield f"  mass        {mass:.4f} kg, as cut"
    loops = f"{len(made.cuts)} loops, each pierced once"
    yield f"  cutting     {length:.3f} m in {loops}, by {part.cutting.process}"
    if one.label is None:
        yield "  engraving   no room for the part number: mark the blank by hand"
    else:
        yield f"  engraving   {''.join(one.label.lines)}, {one.label.height:.1f} mm high"


def _holes(one: Laid) -> Iterator[str]:
    rows = [
        (
            hole.name,
            f"{hole.centre[0]:9.3f}",
            f"{hole.centre[1]:9.3f}",
            _cut_to(one, hole.name),
            _then(hole),
        )
        for hole in one.blank.holes
    ]
    if rows:
        yield f"  {'hole':<24}{'x':>9}{'y':>11}   {'cut':<14}then"
        for name, x, y, size, after in rows:
            yield f"  {name[:23]:<24}{x}  {y}   {size:<14}{after}"
        yield ""


def _cut_to(one: Laid, name: str) -> str:
    size = next((cut.diameter for cut in one.profile.cuts if cut.name == name), 0.0)
    return f"Ø{size:.3f}" if size else "marked only"


def _then(hole: object) -> str:
    after, diameter = getattr(hole, "after", ""), getattr(hole, "diameter", 0.0)
    return f"{after}, Ø{diameter:.3f}" if after else "to size"


def _rules(one: Laid) -> Iterator[str]:
    broken = one.broken
    narrow = next((rule for rule in one.rules if rule.code == "flat.web"), None)
    if narrow is not None:
        yield f"  narrowest {narrow.field}: {float(narrow.value):.2f} mm"
    yield f"  {len(one.rules)} rules of cutting looked at, {len(broken)} not met"
    for rule in broken:
        yield from _wrapped(f"! {rule.field}: {rule.wrong()}; {rule.how}")


def _nest(part: Part, one: Laid) -> Iterator[str]:
    sheet, found = part.cutting.sheet, one.nest
    if not found.sheets:
        yield "  no nest: the blank does not fit on the sheet"
        return
    share = found.utilisation(one.profile.area, sheet)
    count = sum(len(spots) for spots in found.sheets)
    yield (
        f"  nest        {count} on {len(found.sheets)} sheet(s) of {sheet[0]:.0f} x {sheet[1]:.0f} mm, "
        f"{part.cutting.spacing:.1f} mm apart"
    )
    yield f"  utilisation {share:.2%} of the sheet(s); the last is taken up to {found.used:.1f} mm"


def _cautions(part: Part, laid: Sequence[Laid]) -> list[str]:
    said = [taper_note(part.cutting, laid[0].blank.thickness)]
    said += [f"Press: {note}." for one in laid for note in one.blank.bends]
    said += [f"{note[0].upper()}{note[1:]}." for one in laid for note in one.blank.notes]
    said += [
        "Lines are those of the finished part: whoever cuts offsets for the kerf and leads in from the scrap.",
        "Engrave shallow, and only where the label stands: a crack begins at a scratch.",
        "Keep the heat number and the grain direction of the sheet with the blanks.",
        *CAUTIONS,
    ]
    return list(dict.fromkeys(said))


def _list(head: str, entries: Sequence[str]) -> Iterator[str]:
    yield f"{head}:"
    for entry in entries:
        yield from _wrapped(f"- {entry}")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")
