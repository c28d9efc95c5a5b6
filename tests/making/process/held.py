"""What process sheets must keep, found again on the solid: each face once, within the stock, depths as they are."""

import numpy as np

from parts.making.bench.files import sharp_solids
from parts.making.process.files import processed

OFF = 0.05
"""How far beside a face metal and air are looked for [mm]."""


def plans(part):
    """How every piece of a part is made."""
    solids = sharp_solids(part)
    return [processed(part, drawn, solids[drawn.piece]) for drawn in part.drawn()]


def faults(one):
    """What is wrong with the process sheets of a piece; none where nothing is."""
    return [*_faces(one), *_outside(one), *_depths(one)]


def _faces(one):
    made = [i for setup in one.setups for step in setup.steps for i in step.faces]
    every = sorted([*made, *one.plan.bought])
    if every != list(range(len(one.plan.solid.faces))):
        missing = sorted(set(range(len(one.plan.solid.faces))) - set(every))
        twice = sorted({i for i in every if every.count(i) > 1})
        yield f"faces made by no step {missing}, by two {twice}"


def _outside(one):
    for k, setup in enumerate(one.setups, 1):
        axes = np.array([setup.frame.right, setup.frame.up, setup.frame.toward])
        for step in setup.steps:
            if step.bottom > step.top + 1e-6 or step.top > setup.high[2] + 0.01:
                yield f"set-up {k}, {step.kind}: from {step.top} to {step.bottom} in stock up to {setup.high[2]}"
            if step.bottom < setup.low[2] - 0.01 and step.kind != "part off":
                yield f"set-up {k}, {step.kind}: down to {step.bottom} in stock from {setup.low[2]}"
            for spot in step.spots:
                place = axes @ np.asarray(spot.place)
                if np.any(place[:2] < setup.low[:2] - 0.01) or np.any(
                    place[:2] > setup.high[:2] + 0.01
                ):
                    yield f"set-up {k}, {step.kind} at {spot.label}: beside the stock"


def _depths(one):
    """Of every hole: air to the bottom, wall around it, and metal below where its floor is flat or pointed."""
    solid = one.plan.solid
    for k, setup in enumerate(one.setups, 1):
        way = setup.frame.toward
        aside = setup.frame.right
        for step in setup.steps:
            if step.kind not in ("drill", "bore", "ream") or not step.faces or not step.spots:
                continue
            for spot in step.spots:
                place = np.asarray(spot.place) - (np.asarray(spot.place) @ way) * way
                for height in (step.top - OFF, (step.top + step.bottom) / 2.0, step.bottom + OFF):
                    if solid.holds(place + height * way):
                        yield f"set-up {k}, {step.kind} at {spot.label}: metal at {height:.2f} within the hole"
                if step.to in ("full diameter", "floor"):
                    # Below what a drill's point takes out at that radius.
                    below = step.bottom - OFF - 0.02 * step.diameter
                    rim = place + below * way + 0.47 * step.diameter * aside
                    if not solid.holds(rim):
                        yield f"set-up {k}, {step.kind} at {spot.label}: no floor at {step.bottom:.2f}"
