"""A toe with a peg that stands through its boss and is welded round on the foot's side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_limits
from parts.core.fatigue_places import ROOT, TOE, Detail, Weld, demand_of
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_lever.toe_boss import BEYOND, PeggedToe
from parts.features.arm.tip import AtTip
from parts.features.bolts.hardware import matching
from parts.features.pins.post import bar_modes
from parts.features.weld.plate_edge import SHEAR_SHARE
from parts.features.weld.softened import weaker, welded
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.fits.fits import Fit, fit
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, work
from parts.strength.plates import boss
from parts.strength.welded import root, weld

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied
    from parts.core.weldment import Weldment

X, Y, Z = np.eye(3)
SLIPS = "H9/h9"
"""Fit of the peg in its hole: it is set by hand and then welded; common practice, no source."""
FAR = 5.0
"""Distance at which the arm holds the boss, in its diameters [-]: farther changes nothing."""


class WeldedToe(Group, PeggedToe, Answers[AtTip]):
    """A boss with a peg through it, welded to its face."""

    type: Literal["welded"] = Field(
        "welded",
        description="A boss with a peg through it that is welded round on the foot's side.",
    )
    diameter: PositiveLength = Field(description="Outside diameter of the boss.")
    width: PositiveLength = Field(description="Width of the boss along the pivot.")
    peg: PositiveLength = Field(description="Diameter of the peg.")
    peg_material: MaterialName | None = Field(
        None, description="Material of the peg; the lever's own where left out."
    )
    leg: PositiveLength = Field(description="Leg of the fillet round the peg.")
    filler: str = Field(
        "",
        max_length=40,
        description="Filler metal; the weakest known for the metal where left out.",
    )
    height_of_foot: PositiveLength = Field(
        description="From the face of the boss to where the foot bears."
    )
    side: Literal["away", "inward"] = Field(
        "away",
        description="The face that the peg stands on: away from the bracket, or toward it.",
    )

    @property
    def _in_hole(self) -> Fit:
        return fit(SLIPS, float(np.max(self.peg)))

    @property
    def ring(self) -> Any:
        """Diameter of the weld at its outer toe [mm]."""
        return self.peg + 2.0 * self.leg

    def softens(self, metal: Material) -> Material:
        thin = float(np.min(np.minimum(self.width, self.peg)))
        return welded(metal, self.filler, thin) if metal.weld_zones else metal

    def _of(self, site: AtTip) -> Material:
        return site.metal if self.peg_material is None else self.peg_material

    def rules(self, site: AtTip) -> Iterator[Rule]:
        yield from self.boss_rules(site)
        peg = self._of(site)
        for field, metal in (
            (f"{site.field}.type", site.metal),
            (f"{site.field}.peg_material", peg),
        ):
            yield matching(
                "toe.weldable", field, bool(metal.weld_zones),
                f"nothing may be counted on beside a weld of {metal.name} (weldability: {metal.weldability})",
                "choose a metal that is welded, or a pinned toe",
            )  # fmt: skip
        yield matching(
            "toe.alike", f"{site.field}.peg_material", _kin(site.metal) == _kin(peg),
            f"{peg.name} is not welded to {site.metal.name}", "take a peg of the lever's kind of metal",
        )  # fmt: skip
        rows = (
            (at_least, "weld_room", "diameter", self.diameter,
             self.ring + 2.0 + 2.0 * np.asarray(site.edge_break, float),
             "the fillet finds no room on the face of its boss", "make the boss larger, or the fillet smaller"),
            (at_least, "weld_least", "leg", self.leg, np.maximum(2.0, 0.2 * self.peg),
             "so small a fillet does not fuse beside so thick a peg (common practice, no source)", "enlarge it"),
            (at_most, "weld_most", "leg", self.leg, 0.75 * self.peg,
             "so large a fillet draws the peg and is not needed (common practice, no source)", "lessen it"),
            (at_least, "weld_seat", "width", self.width, 0.8 * self.peg,
             "a peg in so thin a boss draws aside as it is welded (0.8 of it: common practice, no source)",
             "widen the boss, or take a thinner peg"),
        )  # fmt: skip
        for kind, code, field, value, limit, why, how in rows:
            yield kind(f"toe.{code}", f"{site.field}.{field}", value, limit, why, how)

    def kinds(self, site: AtTip) -> Sequence[Kind]:
        stays = {"root in fatigue": "the toe of its weld lies there, and is checked as a weld"}
        fillet = {
            "fillet of the boss in fatigue": "the toe of its weld lies there, and is checked as a weld"
        }
        return [
            Kind("post", "toe peg", left_out=stays), Kind("welded peg", "toe peg"),
            Kind("boss on a plate", "toe peg", left_out=fillet),
        ]  # fmt: skip

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        required, on = site.required(case), partial(check, load_case=case.name)
        force, moment = self.at_face(site, case)
        peg = self.softens(self._of(site))
        yield from bar_modes("toe peg", peg, self.peg, force, moment, case.name, required)
        V, M = (np.hypot(of[..., 0], of[..., 1]) for of in (force, moment))
        thin = float(np.min(np.minimum(self.width, self.peg)))
        zone = weaker(*(one.beside_weld(self.filler, thin) for one in (site.metal, self._of(site))))
        carried = work(
            weld.tube_fillet_force, D=self.peg, N=force[..., 2], V=V, M=M, T=moment[..., 2]
        )
        for (kind, strength, factor), share in zip(
            required.both(zone.yield_strength, zone.ultimate_strength),
            (1.0 / np.sqrt(3.0), SHEAR_SHARE),
            strict=True,
        ):
            yield on(
                f"toe peg, weld, {kind}", "weld", demand=carried, unit="N/mm", required=factor,
                capacity=work(weld.fillet_capacity, h=self.leg, t=np.minimum(self.width, self.peg / 2.0),
                    S_w=share * strength, tau_haz=share * strength, sigma_haz=strength),
                note="the fillet alone; the peg's hole is counted for nothing",
            )  # fmt: skip
        beside = self._beside(force, moment)
        for kind, strength, factor in required.both(
            site.metal.yield_strength, site.metal.ultimate_strength
        ):
            yield on(f"toe peg, boss beside the weld, {kind}", "local bending", demand=beside, unit="MPa",
                capacity=strength, required=factor, note="softened")  # fmt: skip

    def _beside(self, force: Any, moment: Any) -> Worked:
        """Stress on the face of the boss beside the weld, all of it handed to the arm [MPa]."""
        d, t, W = np.minimum(self.ring, self.diameter), self.width, self.diameter
        size = {"t": t, "d": d, "W": W}
        far = FAR * np.asarray(W, float)
        pushed = np.abs(force[..., 2])
        return work(
            boss.beside_boss_stress,
            along=work(boss.boss_bending_stress, M=moment[..., 1], a=far, **size),
            across=work(boss.boss_twist_stress, M=moment[..., 0], T=moment[..., 0], a=far, **size),
            square=work(boss.boss_force_stress, F=pushed, M=pushed * (d + t) / 2.0, **size),
            V=np.hypot(force[..., 0], force[..., 1]), t=t, d=d,
        )  # fmt: skip

    def details(self, site: AtTip, modes: Modes) -> Sequence[Detail]:
        throat = work(root.fillet_throat, h=self.leg)
        bent, beside = (
            demand_of(modes, f"toe peg, {one}")
            for one in ("bending at the root", "boss beside the weld, yield")
        )
        through = demand_of(modes, "toe peg, weld, yield", 1.0 / throat.value)
        return [
            Weld("toe peg, toe of its weld", self._of(site), bent, TOE),
            Weld("toe peg, weld root", site.metal, through, ROOT),
            Weld("toe peg, toe of its weld on the boss", site.metal, beside, TOE),
        ]

    def clearances(self, site: AtTip) -> Sequence[Clearance]:
        pair = self._in_hole
        return [Clearance("toe: peg in its boss", f"{site.field}.peg", (of_limits("hole", pair.hole),),
            (of_limits("peg", pair.shaft),), "choose another size")]  # fmt: skip

    def touching(self, site: AtTip) -> dict[str, str]:
        return {f"peg, {self._of(site).name}": self._of(site).galvanic_family}

    @property
    def _long(self) -> float:
        return float(np.max(self.width + self.height_of_foot * (1.0 + BEYOND)))

    def bought(self, site: AtTip) -> Sequence[Bought]:
        made = f"peg {float(self.peg):.4g} h9 x {self._long:.4g} mm, {self._of(site).name}"
        return [Bought(made, 1, "toe, to be welded in")]

    def applied(self, site: AtTip, case: LoadCase) -> Sequence[Applied]:
        """What the peg does to the boss, by the ring of its weld."""
        from parts.core.supports import Applied, Flat

        face = self.up * float(self.width) / 2.0 * Z
        ring = Flat(face, self.up * Z, float(self.ring) / 2.0, float(self.peg) / 2.0)
        return (Applied("toe", (ring,), tuple(site.actions(case))),)

    def marks(self, site: AtTip) -> Marks:
        from parts.core.drawing import Hole, Marks

        half, of = float(self.width) / 2.0, self._in_hole.hole
        hole = Hole("toe", (0, 0, half), -Z, float(self.peg), through=2 * half, fit=of.tolerance_class,
            limits=of.sizes, callout="for a peg, welded")  # fmt: skip
        return self.outside() + Marks((), (hole,), notes=(self._note,))

    @property
    def _note(self) -> str:
        where = f"{'away from' if self.side == 'away' else 'toward'} the bracket"
        filler = f", {self.filler}" if self.filler else ""
        return (
            f"Toe: set the peg flush with the far face of its boss, square to it, and weld it round on the face "
            f"{where} with a fillet of {float(self.leg):g} mm{filler}; see the weld sheet."
        )

    def weldment(self, site: AtTip) -> Weldment:
        """The sheet by which the peg is welded in; the site's origin is the middle of the boss."""
        from parts.core.drawing import Linear, View
        from parts.core.drawing import Weld as Symbol
        from parts.core.weldment import Member, Weldment

        at, half = np.broadcast_to(np.asarray(site.at, float), 3), float(self.width) / 2.0
        long, up = self._long, self.up
        foot, tip = at - up * half * Z, at + up * (long - half) * Z
        rim = at + up * half * Z + np.array([0.0, -float(self.peg) / 2.0, 0.0])

        def peg() -> dict[str, Any]:
            from parts.shapes.profile import cylinder

            low, high = sorted((float(foot[2]), float(tip[2])))
            return {
                "peg": cylinder(
                    float(self.peg), low, high, "z", (float(at[0]), float(at[1]), 0.0)
                ).val()
            }

        return Weldment(
            X, Y, (View("front"), View("top")),
            (Member("part", site.metal.name, np.zeros(3) + at * 0.5),
             Member("peg", f"Ø{float(self.peg):g} h9, {self._of(site).name}", (at + tip) / 2.0)),
            (Symbol("weld of the peg", rim, "fillet", float(self.leg), all_round=True, filler=self.filler),),
            (Linear("peg", foot, tip, up * Z, long, view="top"),),
            ("Take bearings, bush and seals out of the hub first.",
             "Set the peg flush with the far face, square to the boss; clamp the boss to a block that takes the heat.",
             "Tack at three places, check it is square, then weld round in thirds, opposite ones after each other."),
            ("Check the peg for square and the hub's bore for size when it is cold.",),
            peg,
        )  # fmt: skip


def _kin(metal: Material) -> str:
    return "steel" if "steel" in metal.family else metal.family
