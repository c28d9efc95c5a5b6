"""Bolts of a bracket that hold the engine too: they bear what it does to the frame beside what the plate does.

The engine's force goes through the bolt from its lug to the frame's; the plate under the head does not feel it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.check import Check, check, governing
from parts.core.loads import LoadCase, Required
from parts.features.bolts.slip import AGAINST_SLIP
from parts.strength.bolted import joint, slots
from parts.vehicle.loads.engine import ORDERS
from parts.vehicle.loads.statics import FRAME
from parts.vehicle.loads.wheels import ENGINE

if TYPE_CHECKING:
    from parts.families.foot_bracket.family import FootControlBracket
    from parts.features.mounts.mount import Mount
    from parts.vehicle.build import Build
    from parts.vehicle.file.places import Frame
    from parts.vehicle.loads.build_case import BuildCase

BRACKET = "foot-control bracket"
NEAR = 1.0
"""Distance of a bolt's axis from a mount of the engine up to which it goes through it [mm]."""
BESIDE = 60.0
"""Distance along its axis from the face of the plate to that mount up to which it does [mm]."""
TURN = np.linspace(0.0, 2.0 * np.pi, 360, endpoint=False)
WAVES = dict(zip(ORDERS, (np.cos(TURN), np.sin(TURN), np.cos(2.0 * TURN)), strict=True))
"""How each order goes through a turn of the crank [-]."""
FACES = "steel on aluminium, machined, dry"
"""The engine's lug on the frame's."""


class EngineBolt(NamedTuple):
    """A bolt of a bracket through a mount of the engine: names of both, the bracket, its axes, which of its mounts."""

    part: str
    at: str
    bracket: FootControlBracket
    frame: Frame
    which: int

    @property
    def name(self) -> str:
        return f"{self.part}, mount {self.which + 1} through {self.at}"

    @property
    def mount(self) -> Mount:
        return self.bracket.mounts[self.which]

    def felt(self, case: BuildCase) -> tuple[np.ndarray, float]:
        """What engine and plate do to it: shear in the plane of the plate (2,), and pull [N]."""
        engine = self.by_engine(case)
        shear, pull = engine[:2], abs(float(engine[2]))
        own = next((one for one in self.bracket.loads if one.name == case.name), None)
        if own is None:
            return shear, pull
        forces, rocked = self.bracket.loads_on_mounts.bolt_forces(own)
        plate = np.asarray(forces)[self.which]
        return shear + plate[:2], pull + max(float(plate[2]), 0.0) + float(rocked[self.which])

    def by_engine(self, case: BuildCase) -> np.ndarray:
        """What the engine does to it, in the bracket's axes [N]."""
        return self.frame.turned_into(
            sum((one.force for one in case.held if (one.body, one.point, one.by) == (FRAME, self.at, ENGINE)),
                np.zeros(3))
        )  # fmt: skip


def engine_bolt_checks(build: Build) -> Iterator[Check]:
    """The checks of every bolt of a bracket that goes through a mount of the engine, each under its worst load case.

    Args:
        build: the build.
    """
    for bolt in engine_bolts(build):
        found: dict[str, list[Check]] = {}
        for case in build.cases:
            shear, pull = bolt.felt(case)
            if np.any(bolt.by_engine(case)):
                required = case.required or _asked(bolt.bracket)
                for one in bolt.mount.bolt_modes(
                    bolt.name, pull, float(np.hypot(*shear)), case.name, required, "engine and plate together"
                ):  # fmt: skip
                    found.setdefault(one.name, []).append(one)
        shaken = list(_slips(bolt, build))
        worst = [governing(every) for every in (*found.values(), shaken) if every]
        yield from (one for one in worst if one is not None)


def _asked(bracket: FootControlBracket) -> Required:
    return bracket.factors(LoadCase.model_construct(name="", forces=[], required=None))


def engine_bolts(build: Build) -> Iterator[EngineBolt]:
    """Every bolt of a bracket whose axis passes a mount of the engine."""
    engine = build.entry.engine
    for name in build.names:
        part: Any = build.bare(name)
        frame = build.frame(name)
        if engine is None or frame is None or part.family != BRACKET:
            continue
        for k, mount in enumerate(part.mounts):
            for at in engine.mounts:
                *beside, along = frame.into(build.points[at]) - [*map(float, mount.at), 0.0]
                if np.hypot(*beside) <= NEAR and abs(along) <= BESIDE:
                    yield EngineBolt(name, at, build.part(name), frame, k)  # type: ignore[arg-type]


def _slips(bolt: EngineBolt, build: Build) -> Iterator[Check]:
    """The engine's lug on the frame's under what comes at every turn of the crank, all orders of a case together."""
    mount, bracket = bolt.mount, bolt.bracket
    together: dict[str, np.ndarray] = {}
    for case in build.cases:
        if case.order:
            said = case.name.removesuffix(f", {case.order}")
            goes = WAVES[case.order][:, None] * bolt.by_engine(case)[:2]
            together[said] = together.get(said, 0.0) + goes
    held = slots.slip_resistance(
        joint.clamp_force(mount.least_preload(mount.settled(bracket.metal, bracket.plate.thickness)).value, 0.0, 0.0),
        slots.face_friction(FACES), mount.hole_factor, gamma=1.0,
    )  # fmt: skip
    for said, goes in together.items():
        yield check(
            f"{bolt.name}, slip", "slip", load_case=f"{said}, all orders together", unit="N",
            demand=float(np.max(np.hypot(*goes.T))), capacity=held, required=AGAINST_SLIP,
            note="one face, dry; a bolt that is shaken in its hole comes loose and breaks",
        )  # fmt: skip
