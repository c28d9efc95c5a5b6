"""What goes with the prints: how they stand, what their holes are, and what they are not: `print.txt`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

import numpy as np

from parts.core.cautions import CAUTIONS
from parts.core.part import Part
from parts.making.print.engrave import WORDS
from parts.making.print.printed import Print, Printed
from parts.making.print.settings import Settings
from parts.making.print.split import spans

WIDTH = 100
SHOWN = 4
SLENDER = 8.0

LEAST_FOOT = 10.0
"""A print with less than this on the bed comes loose [mm^2]; common practice, no source."""


def print_text(part: Part, how: Settings, pieces: Sequence[Printed]) -> str:
    """Lay out the sheet of a part's fit-up prints.

    Args:
        part: the part.
        how: what they are printed with.
        pieces: its pieces as they are printed.

    Returns:
        Text of at most 100 columns.
    """
    head = f"{part.name} {part.title}, revision {part.revision}: fit-up print in {how.plastic.name}"
    lines = [WORDS, *textwrap.wrap(head, WIDTH), "", *_settings(how), *_eased(part, how), ""]
    for piece in pieces:
        lines += [*_piece(piece, how), *_holes(piece), *_split(piece), ""]
    lines += _list("Cautions", _cautions(how, pieces))
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _settings(how: Settings) -> Iterator[str]:
    bed = " x ".join(f"{v:g}" for v in how.bed)
    rows = {
        "bed": f"{bed} mm",
        "hole_allowance": f"{how.hole_allowance:.3f} mm on the diameter",
        "shrink": f"{how.shrink:.2%}, so enlarged by {how.scale:.5f}",
        "tapped": f"holes: {how.tapped}",
        "foot_chamfer": f"{how.foot_chamfer:g} mm",
        "deposition": f"{how.deposition:g} mm^3/s",
        "fill": f"{how.fill:.0%} of the volume, walls included",
    }
    for key, text in rows.items():
        yield f"{key:<16}{text:<52}{how.origin[key]}"


def _eased(part: Part, how: Settings) -> Iterator[str]:
    """What else than holes is given the allowance: throats, spigots, flats, splines."""
    for one in part.clearances():
        if one.eased is not None:
            yield f"{'eased':<16}{one.joint}, by {how.hole_allowance:.3f} mm"


def _piece(piece: Printed, how: Settings) -> Iterator[str]:
    stand = piece.stand
    yield f"{piece.piece.name}: {stand.name} up"
    lean = f"{np.degrees(how.overhang):.0f} deg from upright"
    yield f"  overhang        {stand.overhang:.0f} mm^2 leaning more than {lean}"
    yield f"  on the bed      {stand.contact:.0f} mm^2"
    if stand.contact < LEAST_FOOT:
        yield "  stands on       no flat: turn on a raft and supports, or it comes loose"
    if piece.turn:
        yield f"  turned          {np.degrees(piece.turn):.0f} deg on the bed, to fit"
    for one in piece.prints:
        yield from _print(one, how)


def _print(one: Print, how: Settings) -> Iterator[str]:
    laid = one.volume * how.fill
    hours = laid / how.deposition / 3600.0
    wide, deep, high = one.size
    yield f"  {one.name}.stl"
    yield f"    size          {wide:.1f} x {deep:.1f} x {high:.1f} mm, as sent to the printer"
    yield f"    volume        {one.volume / 1e3:.2f} cm^3"
    yield f"    mass          {1e3 * laid * how.plastic.density:.0f} g at {how.fill:.0%} fill"
    yield f"    time          about {hours:.1f} h; the printer's own estimate is nearer"
    label = one.marked.label
    where = f"{one.marked.where}, {label.height:.1f} mm high, {one.marked.removed:.0f} mm^3"
    yield f"    engraved      {where}"
    yield f"    foot chamfer  {one.foot}"
    bed = sorted((*how.bed[:2],))
    if (
        high > how.bed[2]
        or min(wide, deep) > bed[0] * np.sqrt(2.0)
        or max(wide, deep) > np.hypot(*bed)
    ):
        yield "    ! LARGER THAN THE BED even so: state a larger bed, or another `up`"
    if high > SLENDER * min(wide, deep):
        yield "    ! slender: print it with a brim, slowly"


def _holes(piece: Printed) -> Iterator[str]:
    if not piece.holes:
        yield "  holes           none are described of this piece: none was enlarged"
        return
    yield f"  {'hole':<28}{'in the part':>12}{'printed':>10}  "
    for one in piece.holes:
        roof = ", roofed" if one.roof else ""
        was = f"{float(one.hole.diameter):>12.3f}"
        yield f"  {one.hole.name[:27]:<28}{was}{one.diameter:>10.3f}  {one.words}{roof}"


def _split(piece: Printed) -> Iterator[str]:
    parted = piece.split
    if len(parted.halves) < 2:
        return
    axis = "xyz"[parted.axis]
    length = float(piece.stand.size[parted.axis])
    shares = ", ".join(f"{share:.1f}" for share in spans(parted.planes, length))
    yield f"  split across {axis} into {shares} mm, keys not counted"
    for level, keys in zip(parted.planes, parted.keys, strict=True):
        said = ", ".join(f"{key.kind} {key.width:.1f} x {key.depth:.1f} mm" for key in keys)
        yield f"    at {level:.1f} mm: {said or 'no room for a key; line it up on a straight edge'}"


def _cautions(how: Settings, pieces: Sequence[Printed]) -> list[str]:
    said = [
        f"{WORDS}. A print proves that the part fits, never that it holds.",
        "Break prints up when the metal part is in: a forgotten one looks finished under paint.",
        *how.plastic.cautions,
    ]
    if how.origin["hole_allowance"] == "common practice":
        said.append(
            "The allowance on holes is a guess until your own printer is measured: `oneoff gauge`."
        )
    if any(one.roof for piece in pieces for one in piece.holes):
        said.append("Roofed holes bear on three sides only; judge their fit by the round part.")
    if any(len(piece.split.halves) > 1 for piece in pieces):
        said.append(
            "Glue split prints dry first; measure the whole over the joint before you trust the fit."
        )
    return [*said, *CAUTIONS]


def _list(head: str, entries: Sequence[str]) -> Iterator[str]:
    yield f"{head}:"
    for entry in dict.fromkeys(entries):
        yield from textwrap.wrap(f"- {entry}", WIDTH, initial_indent="  ", subsequent_indent="    ")
