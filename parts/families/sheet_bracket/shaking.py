"""What shaking does to a sheet bracket: its natural frequencies, and the load cases that follow from its masses."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import Action, Block, LoadCase, PointLoad
from parts.core.usual_loads import G_0
from parts.families.sheet_bracket.leg import Standing
from parts.families.sheet_bracket.shape import BracketShape, gauss, stretches
from parts.inputs.quantities import Direction
from parts.standards.materials.materials import Material
from parts.strength.columns.lateral import rectangle_torsion_constant
from parts.strength.method import Worked, plain, work
from parts.strength.vectors import cross
from parts.strength.vibration import shaken

SOFTER = 1.1
"""Worked natural frequency over the real one, for what it stands on gives too [-]; common practice, no source."""
CLEAR = 1.4
"""Natural frequency over the engine's highest, where it is to stay clear [-]: about √2, from where on a mass feels no
more than twice the shaking; common practice, no source."""
NAMED = "shaken along "
"""Begins the names of the load cases that follow from shaking."""


class Engine(Group):
    """The engine whose orders shake it."""

    top_speed: float = Field(
        gt=100.0, le=30000.0, description="Top speed of the crank, in turns a minute."
    )
    order: float = Field(
        1.0, ge=0.5, le=12.0,
        description="The highest order that counts: 1 is once a turn, 2 the second of a single cylinder.",
    )  # fmt: skip


class Shaking(Group):
    """How its foot is shaken."""

    acceleration: Direction = Field(
        description="Amplitude at its foot along x, y, z, in times gravity, as [4, 4, 8]."
    )
    cycles: float = Field(1e8, gt=0.0, le=1e12, description="Cycles in its life, each way.")
    engine: Engine | None = Field(
        None, description="The engine; left out, nothing makes a mass move more than the foot."
    )
    damping: float = Field(
        0.02, gt=0.0, lt=1.0,
        description="Damping ratio; 0.02 for bolted sheet is common practice, no source.",
    )  # fmt: skip
    through_resonance: bool = Field(
        False,
        description="Whether an order may meet its natural frequency: its loads then grow by resonance, and it must "
        "bear them.",
    )

    @property
    def highest(self) -> Worked | None:
        """Highest frequency that shakes it [Hz]; None without an engine."""
        if self.engine is None:
            return None
        return work(shaken.order_frequency, o=self.engine.order, n=self.engine.top_speed)


class Stretch(NamedTuple):
    """A short stretch of base or leg as a strip.

    Attributes:
        at: its middle (..., 3) [mm].
        axes: along it, across it and out of its upper face, as rows.
        spread, wide: width that bends out of its plane, and in it [mm].
        long: [mm].
    """

    at: Any
    axes: Any
    spread: Any
    wide: Any
    long: Any

    def stiff(self, metal: Material, t: Any) -> tuple[Any, Any, Any]:
        """What it holds a turn with about each of its axes: in torsion, and bent across and in its plane [N*mm^2]."""
        G = metal.E / (2.0 * (1.0 + metal.poisson))
        J = plain(rectangle_torsion_constant(np.minimum(t, self.wide), np.maximum(t, self.wide)))
        return (
            G * J,
            metal.E * self.spread * t**3 / 12.0,
            metal.E * t * self.wide**3 / 12.0,
        )


def strips(part: BracketShape, one: Standing, to: Any) -> Iterator[Stretch]:
    """The base between its bolts and a leg, and the leg up to a length along it, in short stretches."""
    foot, axes, seated = one.way(0.0), one.frame(0.0), part.seated(one)
    for s, share in gauss(-np.asarray(part.row(one), float), 0.0, 2):
        yield Stretch(
            foot + np.asarray(s)[..., None] * axes[..., 0, :], axes, seated, seated, share
        )
    wide = np.minimum(part.spread(one), one.wide)
    for low, high, curved in stretches(one):
        upper = np.maximum(np.minimum(high, to), low)
        for s, share in gauss(low, upper, 4 if curved else 2):
            yield Stretch(one.way(s), one.frame(s), wide, one.wide, share)


def gives(part: BracketShape, one: Standing, place: Any, to: Any, sides: Any = 0.0) -> Any:
    """How far a place that is fixed to a leg gives for a force there, summed over three directions [mm/N].

    Args:
        part: the bracket.
        one: the leg.
        place: where the force acts (..., 3) [mm].
        to: length along the leg at which it is fixed to it [mm].
        sides: of a box (..., 3) that sits there [mm]: its turning counts by its radius of gyration.
    """
    total: Any = 0.0
    square = np.square(np.asarray(sides, float))
    for of in strips(part, one, to):
        for i, stiff in enumerate(of.stiff(part.metal, part.thickness)):
            way = of.axes[..., i, :]
            arm = np.sum(np.square(cross(way, place - of.at)), axis=-1)
            gyration = np.sum(square * (1.0 - np.square(way)), axis=-1) / 12.0
            total = total + of.long * (arm + gyration) / stiff
    return total


def leaning(part: BracketShape, one: Standing, acting: Sequence[Action]) -> Any:
    """How far what acts on a leg leans each of its stretches for a turn of it, over what holds it, summed [-]."""
    total: Any = 0.0
    for of in strips(part, one, one.leg.reach):
        # Turned by a little, a force that points toward the stretch moves on by half of the turn's square.
        push = sum(-np.sum(each.force * (each.at - of.at), axis=-1) for each in acting)
        held = of.stiff(part.metal, part.thickness)[1]
        total = total + np.maximum(push, 0.0) * of.long / held
    return total


def flexible_masses(part: BracketShape, one: Standing) -> Any:
    """Flexibility times mass over what a leg carries and itself [s^2]."""
    total: Any = 0.0
    if one.leg.carries is not None:
        place = part.points()[f"{one.name} mass"]
        own = one.leg.carries
        total = own.mass * gives(part, one, place, one.leg.reach, own.sides)
    line = part.metal.density * one.wide * part.thickness
    for low, high, _ in stretches(one):
        for s, share in gauss(low, high, 2):
            total = total + line * share * gives(part, one, one.way(s), s)
    return 1e-3 * total


def frequency(part: BracketShape, one: Standing) -> Worked:
    """Natural frequency of a leg with what it carries [Hz]."""
    return work(shaken.natural_frequency, cm=flexible_masses(part, one))


def grown(part: BracketShape, shaking: Shaking, one: Standing) -> Any:
    """How many times the foot's shaking a leg feels [-]."""
    if (highest := shaking.highest) is None:
        return 1.0
    real = np.divide(plain(frequency(part, one)), SOFTER)
    return shaken.amplification(plain(highest), real, shaking.damping)


def shaken_cases(part: BracketShape, shaking: Shaking) -> list[LoadCase]:
    """A load case for each direction that it is shaken in: mass times what it feels, and its weight besides."""
    points = part.points()
    feels = {name: grown(part, shaking, one) for name, one in part.stands.items()}
    cases = []
    for i, amplitude in enumerate(shaking.acceleration):
        if not np.any(amplitude):
            continue
        forces = []
        for name, one in part.stands.items():
            carried = () if one.leg.carries is None else ((f"{name} mass", one.leg.carries.mass),)
            for at, mass in (*carried, (f"{name} itself", part.own[name][0])):
                size = mass * G_0 * (np.abs(amplitude) * feels[name] + 1.0)
                assert at in points
                forces.append(_along(at, i, size))
        cases.append(
            LoadCase.model_construct(
                name=f"{NAMED}{'xyz'[i]}", forces=forces, practice=[], ratio=-1.0, required=None,
                spectrum=[Block.model_construct(cycles=shaking.cycles, share=1.0)],
            )
        )  # fmt: skip
    return cases


def _along(at: str, i: int, size: Any) -> PointLoad:
    if np.ndim(size) == 0:
        force: Any = tuple(float(size) if k == i else 0.0 for k in range(3))
    else:
        force = np.asarray(size)[..., None] * np.eye(3)[i]
    return PointLoad.model_construct(at=at, force=force, moment=(0.0, 0.0, 0.0))


def frequency_checks(part: BracketShape, shaking: Shaking) -> Iterator[Check]:
    """Each leg's natural frequency against the engine's highest order; none where it may pass through resonance."""
    highest = shaking.highest
    if highest is None or shaking.through_resonance:
        return
    for name, one in part.stands.items():
        yield check(
            f"natural frequency of {name}", "vibration", load_case="shaking", unit="Hz", demand=highest,
            capacity=frequency(part, one), required=CLEAR,
            note="a lower bound: leg, its stretch of the base and its mass, shaken in all directions at once",
        )  # fmt: skip


def with_shaking(
    part: BracketShape, stated: Sequence[LoadCase], shaking: Shaking | None
) -> list[LoadCase]:
    """The stated load cases and those of shaking; those of an earlier reading make way."""
    own = [case for case in stated if not case.name.startswith(NAMED)]
    return own if shaking is None else [*own, *shaken_cases(part, shaking)]
