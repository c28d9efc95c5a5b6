"""What a drawing says of the blade of an arm, in the arm's own axes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.drawing import Callout, Dimension, Linear, Radius
from parts.families.torsion_arm.blade import Blade

X, Y, Z = np.eye(3)


def blade_sizes(blade: Blade, ahead: float) -> Iterator[Dimension]:
    """Its length, widths, thicknesses, fillets and pockets; `ahead` lies the face that it is measured to [mm]."""
    arm = blade.arm
    length, crank = float(arm.length), float(arm.crank)
    face = length - ahead
    name = "hub to the face of the end" if ahead else "length of the arm"
    yield Linear(name, (0, 0, 0), (face, 0, crank), X, face, view="front")
    root, tip = blade.root(), blade.tip()
    for where, fillet, radius in (("root", root, arm.root_fillet), ("end", tip, arm.end_fillet)):
        x, y = (float(v) for v in fillet.side)
        if radius <= 0.0:
            x = float(blade.start if where == "root" else blade.end)
            y = float(blade.straight(x))
        wide = Linear(
            f"width where the {where} fillet begins", (x, -y, 0), (x, y, 0), Y, 2 * y, view="front"
        )
        yield wide
        if radius > 0.0:
            centre = np.array([*(float(v) for v in fillet.centre), 0.0])
            middle = (np.array([x, y]) + [float(v) for v in fillet.rim]) / 2.0 - centre[:2]
            toward = np.array([*middle / np.linalg.norm(middle), 0.0])
            yield Radius(f"{where} fillet", centre, Z, toward, float(radius), count=2, view="front")
            if abs(float(blade.slope)) > 1e-9:
                yield Linear(
                    f"hub to where the {where} fillet begins",
                    (0, 0, 0),
                    (x, y, 0),
                    X,
                    x,
                    view="front",
                )
    for where, x in (("hub", float(blade.start)), ("end", float(blade.end))):
        if where == "end" and arm.end_thickness is None:
            continue
        z, half = float(blade.middle(x)), float(blade.thickness(x)) / 2.0
        yield Linear(
            f"thickness at the {where}'s rim",
            (x, 0, z - half),
            (x, 0, z + half),
            Z,
            2 * half,
            view="top",
        )
    if arm.pocket is not None:
        yield from _pocket(blade)


def _pocket(blade: Blade) -> Iterator[Dimension]:
    pocket = blade.arm.pocket
    assert pocket is not None
    low, high = (float(v) for v in blade.pocket_span())
    for name, x in (("near", low), ("far", high)):
        yield Linear(
            f"hub to the {name} end of the pockets", (0, 0, 0), (x, 0, 0), X, x, view="front"
        )
    x = (low + high) / 2.0
    z, half = float(blade.middle(x)), float(pocket.floor) / 2.0
    long = np.sqrt(1.0 + (float(blade.arm.crank) / float(blade.reach)) ** 2)
    if long < 1.0 + 1e-9:
        floor = Linear(
            "floor of the pockets", (x, 0, z - half), (x, 0, z + half), Z, 2 * half, view="top"
        )
        yield floor
    else:
        floor = Linear("floor of the pockets", (x, 0, z - half), (x, 0, z + half), Z, 2 * half)
        yield Callout("floor", (x, 0, z + half), "floor {0}, along the bar", (floor,), view="top")
    slope = float(blade.slope)
    out = np.array([-slope, 1.0, 0.0]) / np.sqrt(1.0 + slope**2)
    side = np.array([x, float(blade.straight(x)), 0.0])
    wide = float(pocket.flange)
    yield Linear("flange", side - out * wide, side, out, wide, count=2, view="front")
    cx, cy, _ = (float(v) for v in blade.pocket_corner(True))
    toward = np.array([-1.0, 1.0, 0.0]) / np.sqrt(2.0)
    yield Radius(
        "corner of the pockets", (cx, cy, 0), Z, toward, float(pocket.corner), count=8, view="front"
    )
