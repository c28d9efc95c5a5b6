"""A clevis welded to its tube: plugged into it, or with its foot on it."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.drawing import Linear, View, Weld
from parts.core.weldment import Member, Weldment
from parts.families.clevis.foot import Foot
from parts.families.clevis.spigot import Spigot
from parts.features.thread.body import OnBody
from parts.shapes.profile import tube

X, Y, _ = np.eye(3)
SHOWN = 1.5
"""How far the tube is shown beyond the weld, over its outside diameter."""


def spigot_weldment(spigot: Spigot, site: OnBody) -> Weldment:
    """The clevis in the end of its tube; the jig holds pin and tube."""
    outside, wall = float(spigot.tube.width_mm), float(spigot.tube.wall_mm)
    end = float(site.body.back) + float(spigot.at_tube)
    far = end + float(spigot.length) + SHOWN * outside
    jig = Linear("pin to the end of the tube", (-end, 0, 0), (0, 0, 0), X, end, view="front")
    weld = Weld(
        "weld of the tube", (-end, -outside / 2, 0), "bevel", float(spigot.weld_prep), all_round=True,
        filler=spigot.filler,
    )  # fmt: skip
    rosettes = spigot.rosettes
    sequence = (
        "Drill the tube for its rosettes; clean tube and spigot bright." if rosettes
        else "Clean tube and spigot bright.",
        "Put an old pin through the ears, push the spigot home, turn the pin square to what the link asks; tack.",
        *(["Fill the rosettes, opposite ones after each other."] if rosettes else []),
        "Weld all round in four quarters, opposite ones after each other.",
    )  # fmt: skip
    return _on_tube(
        site, spigot, (-far, -outside / 2, 0), (weld,), jig, sequence,
        lambda: tube(outside, wall, (-end, 0, 0), -X, far - end),
    )  # fmt: skip


def foot_weldment(foot: Foot, site: OnBody) -> Weldment:
    """The clevis on the wall of its tube; the jig holds the pin over the tube's axis."""
    outside, wall, distance = (
        float(v) for v in (foot.tube.width_mm, foot.tube.wall_mm, foot.distance)
    )
    along = np.asarray(foot.axes(site.body), float)[2]
    axis, long = np.array([-distance, 0.0, 0.0]), SHOWN * outside + float(site.body.width)
    jig = Linear("pin to the tube's axis", axis, (0, 0, 0), X, distance, view="front")
    places = np.asarray(foot.path(site.body).points, float)
    weld = Weld(
        "weld of the foot", places[np.argmax(places[:, 1])], "fillet", float(foot.leg), all_round=True,
        filler=foot.filler,
    )  # fmt: skip
    sequence = (
        "Mark the foot's place on the tube from the frame's points; clean both bright.",
        "Put an old pin through the ears; tack at the four corners and look along the pin.",
        "Weld from corner to corner, opposite sides after each other; return the weld round the corners.",
    )
    return _on_tube(
        site, foot, axis - X * outside / 4 + along * long * 0.4, (weld,), jig, sequence,
        lambda: tube(outside, wall, axis - along * long, along, 2.0 * long),
    )  # fmt: skip


def _on_tube(
    site: OnBody, shank: Spigot | Foot, on_tube: Any, welds: tuple[Weld, ...], jig: Linear,
    sequence: tuple[str, ...], bar: Any,
) -> Weldment:  # fmt: skip
    members = (
        Member(
            "part", site.metal.name, (-float(site.body.back) / 2, float(site.body.width) / 2, 0)
        ),
        Member("tube", f"{shank.tube.name}, {shank.tube_material.name}, of the frame", on_tube),
    )
    after = ("Ream the holes of the ears in one pass when it is cold; try the pin.",)
    return Weldment(
        X, Y, (View("front"), View("top")), members, welds, (jig,), sequence, after, lambda: {"tube": bar()}
    )  # fmt: skip
