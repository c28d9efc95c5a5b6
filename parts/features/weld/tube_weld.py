"""The weld that holds a bung in its tube: a groove over the spigot, or a fillet on the shoulder."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import BUTT, ROOT, SOCKET, Weld, demand_of
from parts.core.feature import Answers, Modes, Site
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.weld.softened import SHEAR_SHARE, weaker
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.columns import link, wrinkling
from parts.strength.method import Worked, work
from parts.strength.section import bar
from parts.strength.welded import root, weld

OPEN = 0.5
"""Root gap over wall from which a groove on a spigot is taken as fused through [-]; common practice, no source."""

LEAST_PREP = 0.3
"""Bevel over wall below which a groove counts as not prepared [-]; common practice, no source."""


class Bears(NamedTuple):
    """What a section bears: force along and across [N], bending moment and torque [N*mm], and the part of
    the bending that changes its sign with every swing."""

    N: Any
    V: Any
    M: Any
    T: Any
    rubs: Any


@dataclass(frozen=True, kw_only=True)
class AtWeld(Site):
    """The weld of a bung: `tube` is outside diameter and wall, `shoulder` the bung's diameter, `prep` the leg of its
    chamfer [mm]; `bung` its metal before welding; `bears` what it bears under a load case."""

    tube: tuple[Any, Any]
    shoulder: Any
    prep: Any
    bung: Material
    bears: Callable[[LoadCase], Bears]


class TubeWeld(Group, Answers[AtWeld]):
    """The weld round a tube's end."""

    type: Literal["groove", "fillet"] = Field(
        "groove",
        description="Full penetration between tube and shoulder, backed by the spigot; or a fillet on "
        "the shoulder.",
    )
    leg: PositiveLength | None = Field(
        None, description="Leg of a fillet; the wall of the tube where left out."
    )
    gap: NonNegativeLength = Field(1.0, description="Root gap between tube and shoulder.")
    filler: str = Field(
        "",
        max_length=20,
        description="Classification of the filler; the weakest of all where left out.",
    )

    def size(self, wall: Any) -> Any:
        """Leg of the fillet [mm]."""
        return wall if self.leg is None else self.leg

    def rules(self, site: AtWeld) -> Iterator[Rule]:
        """Rules of the weld."""
        outside, wall = site.tube
        yield at_most(
            "weld.gap", f"{site.field}.gap", self.gap, np.maximum(1.5 * wall, 1.0),
            "a gap this wide is not bridged in one pass (common practice, no source)", "close it to 1 mm or so",
        )  # fmt: skip
        if self.type == "groove":
            yield at_most(
                "weld.step", f"{site.field}.type", site.shoulder, outside + 2.0 * wall,
                "a groove weld wants a shoulder as large as the tube",
                "leave the shoulder's diameter out, or ask for a fillet",
            )  # fmt: skip
            yield at_least(
                "weld.unprepared", f"{site.field}.type", site.prep, LEAST_PREP * wall,
                "a groove without a bevel on its shoulder fuses to no known depth",
                "state the bevel as `weld_prep`, or ask for a fillet",
            )  # fmt: skip
            return
        yield at_least(
            "weld.ledge", f"{site.field}.leg", site.shoulder - outside, 2.0 * self.size(wall),
            "the shoulder leaves no ledge for the fillet",
            "make the shoulder's diameter larger than the tube by two "
            "legs, or ask for a groove weld",
        )  # fmt: skip
        yield at_least(
            "weld.leg", f"{site.field}.leg", self.size(wall), 1.0,
            "no weld is this small; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "weld.leg_large", f"{site.field}.leg", self.size(wall), 2.0 * wall,
            "a fillet this large burns the wall through (two walls: common practice, no source)",
            "make it smaller",
        )  # fmt: skip

    def through(self, site: AtWeld) -> bool:
        """Whether a groove is surely fused through to the spigot: prepared to the tube's bore, or over a gap."""
        wall = site.tube[1]
        return bool(np.all((site.prep >= wall) | np.greater_equal(self.gap, OPEN * wall)))

    def kind(self, site: AtWeld) -> Kind:
        """What can fail of it."""
        open_root = self.type == "groove" and self.through(site)
        why = "the groove is fused through to the spigot: its toe and its backing are one detail"
        return Kind("tube weld", site.name, left_out={"root in fatigue": why} if open_root else {})

    def modes(self, site: AtWeld, case: LoadCase) -> Iterator[Check]:
        """The weld and the metal beside it."""
        (D, t), name, required = site.tube, site.name, site.required(case)
        N, V, M, T, _ = site.bears(case)
        zone = weaker(
            *(one.beside_weld(self.filler, float(np.max(t))) for one in (site.metal, site.bung))
        )
        on: dict[str, Any] = {"load_case": case.name, "note": f"beside the weld: {zone.source}"}
        stress = work(weld.tube_butt_stress, D=D, t=self._thickness(site), N=N, V=V, M=M, T=T)
        both = required.both(zone.yield_strength, zone.ultimate_strength)
        for kind, strength, factor in both:
            yield check(
                f"{name}, beside the weld, {kind}", "weld", demand=stress, capacity=strength, unit="MPa",
                required=factor, **on,
            )  # fmt: skip
        if self.type == "groove":
            return
        force = work(weld.tube_fillet_force, D=D, N=N, V=V, M=M, T=T)
        for kind, strength, factor in both:
            shear = SHEAR_SHARE * strength
            yield check(
                f"{name}, fillet, {kind}", "weld", unit="N/mm", required=factor, demand=force,
                capacity=work(
                    weld.fillet_capacity, h=self.size(t), t=t, S_w=shear, tau_haz=shear, sigma_haz=strength
                ),
                **on,
            )  # fmt: skip

    def _thickness(self, site: AtWeld) -> Any:
        """What the tube's force goes through beside the weld [mm]."""
        wall = site.tube[1]
        return wall if self.type == "fillet" else np.minimum(site.prep, wall)

    def details(self, site: AtWeld, modes: Modes) -> Sequence[Weld]:
        """Its toe, and its root where that is not fused: a crack there is not seen until it is through."""
        D, name = site.tube[0], f"{site.name}, weld"
        beside = demand_of(modes, f"{site.name}, beside the weld, yield")

        def bent(case: LoadCase) -> Worked:
            return work(
                weld.tube_butt_stress, D=D, t=self._thickness(site), N=0.0, V=0.0, M=site.bears(case).rubs,
                T=0.0,
            )  # fmt: skip

        if self.type == "groove":
            toe = Weld(name, site.metal, beside, BUTT, bent)
            return (
                [toe]
                if self.through(site)
                else [toe, Weld(f"{name} root", site.metal, beside, ROOT, bent)]
            )
        throat = work(root.fillet_throat, h=self.size(site.tube[1]))

        def rubbed(case: LoadCase) -> Any:
            force = work(weld.tube_fillet_force, D=D, N=0.0, V=0.0, M=site.bears(case).rubs, T=0.0)
            return force.value / throat.value

        through = demand_of(modes, f"{site.name}, fillet, yield", 1.0 / throat.value)
        return [
            Weld(name, site.metal, beside, SOCKET, bent),
            Weld(f"{name} root", site.metal, through, ROOT, rubbed),
        ]


def softened_tube(
    name: str, section: tuple[Any, Any], soft: Material, bears: Bears, case: str, required: Required
) -> Iterator[Check]:
    """A tube where the heat of its weld ends: pushed and bent, it is bent most there while it is still soft.

    `section` is its least area [mm^2] and section modulus [mm^3].
    """
    stress = work(
        bar.round_tube_stress, A=section[0], W=section[1], N=bears.N, V=bears.V, M=bears.M, T=bears.T
    )  # fmt: skip
    for kind, strength, factor in required.both(soft.yield_strength, soft.ultimate_strength):
        yield check(
            f"{name}, tube softened by the weld, {kind}", "weld", load_case=case, unit="MPa", demand=stress,
            capacity=strength, required=factor, note="where the heat of the weld ends, with all that bends it there",
        )  # fmt: skip


def tube_beyond(
    name: str, size: tuple[Any, Any], soft: Material, bears: Bears, case: str, required: Required
) -> Iterator[Check]:
    """A whole tube where the heat of its weld ends: its stress there, and its wall folding under push and bending.

    `size` is its outside diameter and wall [mm]; a pull in `bears` is positive.
    """
    outside, wall = size
    bore = outside - 2.0 * wall
    area = np.pi / 4.0 * (np.square(outside) - np.square(bore))
    modulus = np.pi / 32.0 * (np.power(outside, 4) - np.power(bore, 4)) / outside
    yield from softened_tube(name, (area, modulus), soft, bears, case, required)
    yield check(
        "tube wall wrinkling", "local buckling", load_case=case, unit="MPa", required=required.on_ultimate,
        demand=work(
            link.pushed_and_bent_stress, P=np.maximum(-bears.N, 0.0), A=area, M_1=bears.M, M_2=0.0, W=modulus
        ),
        capacity=work(
            wrinkling.wall_buckling_stress, E=soft.E, r=(outside - wall) / 2.0, t=wall, F_cy=soft.yield_strength,
            nu=soft.poisson,
        ),
    )  # fmt: skip
