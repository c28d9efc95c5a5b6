"""What a build file says twice must agree: axles and wheelbase, sides and load points of parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np
from pydantic import BaseModel

from parts.standards.splines.form import Spline
from parts.vehicle.file.case_entries import CaseEntry, EngineCase
from parts.vehicle.file.entries import BuildFile, PartEntry, VehicleEntry
from parts.vehicle.file.forms import nearest
from parts.vehicle.file.hardpoints import Hardpoint
from parts.vehicle.file.names import Wrong
from parts.vehicle.file.places import Frame
from parts.vehicle.file.rear_entries import RearEndEntry
from parts.vehicle.rear_end.linkage import Line

ROUNDED = 0.5
"""By how much a wheelbase, and the place of an anchor, may be rounded [mm]."""
Hardpoints = Mapping[str, Hardpoint]


def two_axles(points: Hardpoints, vehicle: VehicleEntry, rear: RearEndEntry) -> Iterator[Wrong]:
    """Vehicle and rear end each name the axle; the wheel has one."""
    one, other = (points[name] for name in (vehicle.rear_axle, rear.axle))
    apart = float(np.linalg.norm(one.at - other.at))
    if one.name != other.name and apart > one.within + other.within:
        yield (
            ("vehicle", "rear_axle"), "two_axles",
            f"`{one.name}` lies {apart:.1f} mm from `{other.name}`, which `rear_end.axle` names as the wheel's centre",
            "name one hardpoint in both",
        )  # fmt: skip


def anchor_aside(points: Hardpoints, rear: RearEndEntry, bar: Line) -> Iterator[Wrong]:
    """The anchor holds the far end of the bar, so it lies on the bar's line."""
    if rear.anchor is None:
        return
    one, other = points[rear.anchor], points[rear.bar_line]
    aside = float(bar.radius(one.at))
    if aside > one.within + other.within + ROUNDED:
        yield (
            ("rear_end", "anchor"), "anchor_aside", f"`{one.name}` lies {aside:.1f} mm beside the line of the bar",
            "name a hardpoint on that line, or say by `bar_along:` which way the bar runs",
        )  # fmt: skip


def own_masses(entry: BuildFile) -> Iterator[Wrong]:
    """The masses of the bodies are of the machine's: one without a machine never acts, and none weighs more than it."""
    own = {name: one.mass for name, one in entry.bodies.items() if one.mass > 0.0}
    vehicle = entry.vehicle
    for name in own if vehicle is None else ():
        yield (
            ("bodies", name, "mass"), "mass_alone",
            "the build states no `vehicle:`, so that no load case brings this weight to what holds it",
            "leave it out, or state `vehicle:` with its masses",
        )  # fmt: skip
    if vehicle is None:
        return
    whole = vehicle.machine_mass + vehicle.rider_mass + vehicle.passenger_mass
    if own and sum(own.values()) > whole:
        yield (
            ("bodies", next(iter(own)), "mass"), "mass_of_bodies",
            f"the bodies weigh {sum(own.values()):g} kg, and the whole machine with those who ride it {whole:g} kg",
            "the bodies' masses are of the machine's: make them agree",
        )  # fmt: skip


def other_wheelbase(points: Hardpoints, entry: BuildFile) -> Iterator[Wrong]:
    """The front axle is a hardpoint, and the wheelbase a length: both must say the same."""
    front, vehicle = entry.front_end, entry.vehicle
    if front is None or vehicle is None:
        return
    one, other = (points[name] for name in (front.axle, vehicle.rear_axle))
    apart, within = float(one.at[0] - other.at[0]), one.within + other.within + ROUNDED
    if abs(apart - vehicle.wheelbase) > within:
        yield (
            ("front_end", "axle"), "other_wheelbase",
            f"`{one.name}` lies {apart:.1f} mm ahead of `{other.name}`, and the wheelbase is {vehicle.wheelbase:g} mm",
            "make them agree",
        )  # fmt: skip


def other_side(name: str, index: int, frame: Frame | None, hand: object) -> Iterator[Wrong]:
    """A part for one side of the vehicle that stands on the other, or faces the middle.

    Args:
        name: of the part.
        index: of its entry.
        frame: its axes; None without a place.
        hand: its side as its file states it.
    """
    if frame is None or hand not in ("left", "right"):
        return
    y = float(frame.origin[1])
    if y * (1.0 if hand == "left" else -1.0) < 0.0:
        side = "left" if y > 0.0 else "right"
        yield (
            ("parts", index, "place"), "other_side",
            f"{name} is for the {hand} side (`hand: {hand}`) and stands {abs(y):.0f} mm to the {side}",
            "place it on its own side, or turn its `hand:`",
        )  # fmt: skip
    if float(frame.axes[2, 1]) > 0.0:
        yield (
            ("parts", index, "place"), "inside_out",
            f"the z of {name} points to the left, so that it faces the middle",
            "its z points to the right on both sides: `x: forward, y: up`",
        )  # fmt: skip


def other_teeth(
    index: int, entry: PartEntry, part: BaseModel, rear: RearEndEntry | None
) -> Iterator[Wrong]:
    """The splines of the arm and of what anchors the bar, beside the teeth by which the rear end clocks it.

    Args:
        index: of the part's entry.
        entry: the part's entry.
        part: the part.
        rear: the rear end; None where the build has none.
    """
    if rear is None or rear.teeth is None:
        return
    if entry.body == "arm":
        end, stated = "arm", rear.teeth.arm
    elif rear.anchor in entry.points.values():
        end, stated = "anchor", rear.teeth.anchor
    else:
        return
    for spline in _splines(part):
        if spline.teeth != stated:
            yield (
                ("parts", index), "other_teeth",
                f"its spline has {spline.teeth} teeth, and `rear_end.teeth.{end}` says {stated}: the bar would not go "
                "on, or be clocked wrongly", "make them agree",
            )  # fmt: skip


def _splines(group: BaseModel) -> Iterator[Spline]:
    for _, value in group:
        if isinstance(value, Spline):
            yield value
        elif isinstance(value, BaseModel):
            yield from _splines(value)


def other_speed(index: int, part: BaseModel, cases: Iterable[CaseEntry]) -> Iterator[Wrong]:
    """What an engine shakes must stay clear of all its speeds, those of the build's own cases too.

    Args:
        index: of the part's entry.
        part: the part.
        cases: those of the build.
    """
    engine = getattr(getattr(part, "shaking", None), "engine", None)
    most = max((one.speed for one in cases if isinstance(one, EngineCase)), default=0.0)
    if engine is not None and engine.top_speed < most:
        yield (
            ("parts", index), "other_speed",
            f"its `shaking.engine.top_speed` is {engine.top_speed:g} /min, and the build's engine turns at {most:g}",
            "make them agree",
        )  # fmt: skip


def unknown_points(
    name: str, index: int, stated: Iterable[str], known: Iterable[str]
) -> Iterator[Wrong]:
    """Load points that a part does not have.

    Args:
        name: of the part.
        index: of its entry.
        stated: load points that the entry names.
        known: those that the part has.
    """
    known = list(known)
    for own in stated:
        if own not in known:
            yield (
                ("parts", index, "points", own), "unknown_point", f"{name} has no load point `{own}`",
                nearest(own, known),
            )  # fmt: skip
