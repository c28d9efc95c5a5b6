"""A tube as a laser with a rotary axis cuts it: its ends unrolled, one to one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.core.tube_ends import CORNER, Tube, cut_length
from parts.making.dxf_document import begun, written
from parts.making.flat.dxf import LAYERS

ROUND_IT = np.linspace(0.0, 2.0 * np.pi, 721)


def unrolled(tube: Tube) -> tuple[np.ndarray, np.ndarray]:
    """Both ends of a tube as they lie when its outside is rolled flat, seen from outside.

    The head stands square to the wall, so that the cut is where the longer of its two edges lies.

    Args:
        tube: the tube.

    Returns:
        Points of end a and of end b, each of shape (n, 2) [mm]: round the tube from its reference line, and along it
        from the node of end a.
    """
    a = tube.cut(0, ROUND_IT).square
    # Round an end b as it is seen from its own node, that is the other way.
    b = tube.between - tube.cut(1, -ROUND_IT).square
    across = ROUND_IT * tube.around / (2.0 * np.pi)
    return np.stack([across, a], axis=-1), np.stack([across, b], axis=-1)


def unrolled_dxf(tube: Tube, notes: Sequence[str]) -> bytes:
    """The file of a tube's ends for the laser.

    Args:
        tube: the tube.
        notes: lines of text beside it.
    """
    document = begun()
    for name in ("OUTLINE", "NOTE"):
        document.layers.add(name, color=LAYERS[name][0]).description = LAYERS[name][1]
    space, wide = document.modelspace(), float(tube.around)
    ends = unrolled(tube)
    for one in ends:
        space.add_lwpolyline([tuple(map(float, p)) for p in one], dxfattribs={"layer": "OUTLINE"})
    for k in range(5):
        at = wide * k / 4.0
        foot, top = (float(np.interp(at, *one.T)) for one in ends)
        space.add_line((at, foot), (at, top), {"layer": "NOTE"})
        space.add_text(f"{90 * k} deg", height=2.5, dxfattribs={"layer": "NOTE"}).set_placement(
            (at + 1.0, (foot + top) / 2.0)
        )
    said = [
        *notes,
        f"Tube {tube.name}, {_outside(tube)}, wall {tube.wall:.2f}: {wide:.2f} round it; millimetres.",
        "x runs round the tube as seen from outside, from its reference line; y along it from the node of end a.",
        f"The head stands square to the wall: both edges clear. Blank {float(cut_length(tube)):.1f} long, and what the "
        "chuck takes.",
    ]
    if tube.bent:
        said.append(
            "Drawn out straight, to be bent afterwards: a trial piece tells what the bends stretch."
        )
    for i, line in enumerate(said):
        space.add_text(line, height=2.5, dxfattribs={"layer": "NOTE"}).set_placement(
            (0.0, float(ends[0][:, 1].min()) - 5.0 * (i + 2))
        )
    return written(document)


def _outside(tube: Tube) -> str:
    if not tube.deep:
        return f"outside {tube.outside:.2f}"
    corners = f"corners R{CORNER * tube.wall:.2f}"
    return f"{tube.outside:.2f} by {tube.deep:.2f}, {corners}, from the middle of its first side"
