"""An end of a tube that is coped to another tube and welded round it: the cut, the weld, the wall under it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import ROOT, Detail, Weld
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.tube_ends import TubeEnd
from parts.core.ways import Kind
from parts.families.coped_tube.neighbour import AtSaddle, Bears, Beside
from parts.features.bolts.hardware import matching
from parts.features.weld.plate_edge import SHEAR_SHARE, TUBE_USED, Wall
from parts.inputs.designations import MaterialName
from parts.inputs.document import dotted
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, plain, work
from parts.strength.welded import box_end, root, tube_joint, tube_wall, weld

UNEVEN = 1.5
"""Peak over mean of what the weld round a saddle carries [-]: AWS D1.1, tubular connections, from memory; tests on six
joints found it very conservative (Tousignant & Packer, J. Constr. Steel Research 138, 2017). A flat face of up to 30
walls leaves of the half that runs across it a third (10 t0/b0: EN 1993-1-8, 7.3.1): 2/(1 + 1/3) is as much."""
OPENEST = 0.5
"""Throat of the fillet over its leg at the flanks of a saddle, which two tubes meet at up to 120 degrees [-]: half of
it, by geometry."""
ROUNDEST = 0.8
"""How wide a rectangular tube may be of the round one that it stands on [-]: beside wider ones no fillet finds room,
and the study of its peaks ends there."""
TOE = "toe of a fillet weld, hot-spot stress"


def beside_round(b: Any, d0: Any) -> Any:
    """Throat over the leg of a fillet between a flat side and the round wall that falls away from it [-], by geometry.

    The two open by 90 degrees and the slope of the round there, half the width `b` [mm] from the top of one of `d0`.
    """
    slope = np.arcsin(np.minimum(np.divide(b, d0), 1.0))
    return np.cos(np.pi / 4.0 + slope / 2.0)


def weldable(field: str, metal: Material) -> Rule:
    """Something may be counted on beside a weld of a metal."""
    return matching(
        "cope.weldable", field, bool(metal.weld_zones),
        f"nothing may be counted on beside a weld of {metal.name} (weldability: {metal.weldability})",
        "choose a metal that is welded",
    )  # fmt: skip


class Onto(Beside, Answers[AtSaddle]):
    """An end that is coped to another tube, and welded all round."""

    type: Literal["coped"] = Field("coped", description="Coped to a round tube and welded to it.")
    material: MaterialName | None = Field(
        None, description="Material of the other tube; the tube's own where left out."
    )
    gap: NonNegativeLength = Field(0.5, description="Weld gap kept all round.")
    leg: PositiveLength | None = Field(
        None, description="Leg of the fillet; one and a half walls of the tube where left out."
    )
    filler: str = Field(
        "",
        max_length=40,
        description="Filler metal; the weakest known for the metal where left out.",
    )
    beside: list[Beside] = Field(
        default_factory=list, max_length=4,
        description="Other tubes that end at the same place and are fitted first; this one is cut clear of them.",
    )  # fmt: skip

    def cut(self, name: str, way: float) -> TubeEnd:
        others = tuple(one.end(name, way, self.gap) for one in self.beside)
        return self.end(name, way, self.gap, others)

    def size(self, site: AtSaddle) -> Any:
        """Leg of the fillet [mm]."""
        return 1.5 * site.tube.wall if self.leg is None else self.leg

    def sides(self, site: AtSaddle) -> tuple[Any, Any]:
        """Sides of the tube along the one that it meets and across it [mm]; its diameter both."""
        return site.tube.along(self.frame(1.0)[..., 1, :])

    def rules(self, site: AtSaddle) -> Iterator[Rule]:
        """Rules of the cut, the weld and the neighbour."""
        field, outside, wall = site.field, self.sides(site)[1], site.tube.wall
        if not site.tube.round:
            yield from self._square_rules(site)
        yield from self.way_rules(field, outside, self.gap)
        for k, other in enumerate(self.beside):
            yield from list(other.way_rules(f"{field}.beside{dotted((k,))}", outside, self.gap))[:2]
        leg = self.size(site)
        rows: Sequence[tuple[Any, ...]] = (
            *self._neighbour(site),
            (at_most, "thick", "tube", wall, self.tube.wall_mm,
             "a tube thicker than the one that it stands on tears its wall (common practice, no source)",
             "let the thinner tube end on the thicker one"),
            (at_most, "gap", "gap", self.gap, np.maximum(1.5 * wall, 1.0),
             "a gap this wide is not bridged in one pass (common practice, no source)", "close it"),
            (at_least, "leg", "leg", leg, 0.8 * wall,
             "the fillet is smaller than the wall asks (0.8 of it: common practice, no source)", "enlarge it"),
            (at_most, "burn", "leg", leg, 3.0 * wall,
             "so large a fillet burns through the wall (3 of it: common practice, no source)", "lessen it"),
        )  # fmt: skip
        if self.material is not None:
            yield weldable(f"{field}.material", self.material)
        for kind, code, at, value, limit, why, how in rows:
            unit = "" if code in ("slack", "oblong") else "mm"
            yield kind(f"cope.{code}", f"{field}.{at}", value, limit, why, how, unit)

    def _square_rules(self, site: AtSaddle) -> Iterator[Rule]:
        """What is asked of a rectangular tube, wherever it ends."""
        quarters = np.asarray(self.turn, float) / (np.pi / 2.0)
        off = np.abs(quarters - np.round(quarters)) * np.pi / 2.0
        yield at_most("cope.turned", f"{site.field}.turn", off, np.radians(0.5),
            "a rectangular tube stands with its sides along and across its neighbour (EN 1993-1-8, Tables 7.4 and 7.8)",
            "turn by 0, 90, 180 or 270 deg", "deg")  # fmt: skip
        h, b = self.sides(site)
        yield at_most("cope.oblong_tube", "tube", np.maximum(h / b, b / h), 2.0,
            "so flat a tube on another is not covered (EN 1993-1-8, Table 7.8: sides of 0.5 to 2)",
            "choose a squarer one", "")  # fmt: skip

    def _neighbour(self, site: AtSaddle) -> Sequence[tuple[Any, ...]]:
        """Rules of the other tube's size, as rows."""
        outside, slack = self.sides(site)[1], self.tube.width_mm / self.tube.wall_mm
        if not site.tube.round:
            return (
                (at_least, "narrow", "tube", outside, 0.4 * self.tube.width_mm,
                 "so thin a rectangular tube dents the round one, and no peak is known of it (0.4 of its width)",
                 "choose a wider one"),
                (at_most, "round_off", "tube", outside + 2.0 * np.abs(self.offset), ROUNDEST * self.tube.width_mm,
                 "its sides stand where the other tube falls away too steeply for a fillet (0.8 of its width)",
                 "choose a narrower tube, a wider one to stand on, or less offset"),
                (at_most, "slack", "tube", slack, 30.0, "no peak is known of a weld on so thin a wall",
                 "choose a thicker wall"),
            )  # fmt: skip
        return (
            (at_least, "narrow", "tube", outside, 0.2 * self.tube.width_mm,
             "so thin a tube dents the other (EN 1993-1-8, 7.4.2: 0.2 of its width)", "choose a wider one"),
            (at_most, "slack", "tube", slack, 50.0,
             "no standard covers a weld on so thin a wall (EN 1993-1-8, 7.1.2)", "choose a thicker wall"),
        )  # fmt: skip

    @property
    def flat_angle(self) -> Any:
        """Angle between the two centre lines, the lesser [rad]."""
        return np.minimum(self.angle, np.pi - np.asarray(self.angle, float))

    def throat(self, site: AtSaddle) -> Any:
        """Throat of the fillet over its leg where the two tubes open widest [-]."""
        aside = OPENEST
        if not site.tube.round:
            aside = beside_round(
                self.sides(site)[1] + 2.0 * np.abs(self.offset), self.tube.width_mm
            )
        return np.minimum(aside, np.sin(self.flat_angle / 2.0))

    def kinds(self, site: AtSaddle) -> Sequence[Kind]:
        return [Kind("tube on a tube", site.name)]

    def _strengths(self, site: AtSaddle) -> tuple[Any, Any]:
        """Yield and ultimate strength beside the weld, of the weaker tube [MPa]."""
        other = site.soft if self.material is None else self.material
        thin = float(np.min(np.minimum(site.tube.wall, self.tube.wall_mm)))
        zone = other.beside_weld(self.filler, thin)
        soft = site.soft
        return (
            np.minimum(soft.yield_strength, zone.yield_strength),
            np.minimum(soft.ultimate_strength, zone.ultimate_strength),
        )

    def modes(self, site: AtSaddle, case: LoadCase) -> Iterator[Check]:
        """The weld, the metal beside it, and the wall that the end stands on."""
        one, name = site.bears(case), site.name
        required, on = site.required(case), partial(check, load_case=case.name)
        strengths = self._strengths(site)
        stress, (force, how) = self._beside(site, one), self._force(site, one)
        for (kind, strength, factor), share in zip(
            required.both(*strengths), (1.0 / np.sqrt(3.0), SHEAR_SHARE), strict=True
        ):
            shear = share * strength
            yield on(f"{name}, tube beside the weld, {kind}", "weld", demand=stress, capacity=strength, unit="MPa",
                required=factor, note=f"softened; {how}")  # fmt: skip
            yield on(f"{name}, weld, {kind}", "weld", demand=force, unit="N/mm", required=factor,
                capacity=work(weld.fillet_capacity, h=self.size(site) * self.throat(site) / weld.THROAT,
                    t=np.minimum(site.tube.wall, self.tube.wall_mm), S_w=shear, tau_haz=shear, sigma_haz=strength),
                note=f"{how}; throat of {float(np.min(self.throat(site))):.2g} legs, as where the tubes meet flattest",
            )  # fmt: skip
        yield from self._wall(site, one, strengths[0], case)

    def _square(self, site: AtSaddle) -> dict[str, Any]:
        """The weld round a rectangular tube: its sides, and what counts of those across [mm]."""
        h, b = self.sides(site)
        counts = work(
            box_end.effective_width, b=b, b0=self.tube.width_mm, t0=self.tube.wall_mm, t1=site.tube.wall,
            f_y=self._strengths(site)[0], f_y1=site.soft.yield_strength,
        )  # fmt: skip
        return {"b": b, "h": h, "b_e": counts}

    def _beside(self, site: AtSaddle, one: Bears) -> Worked:
        """Stress in the tube beside its weld [MPa]."""
        if not site.tube.round:
            return work(
                box_end.box_end_stress, t=site.tube.wall, **self._square(site), **one.rocked
            )
        size = {"D": site.tube.wide, "t": site.tube.wall}
        return work(weld.tube_butt_stress, N=one.N, V=one.V, M=one.M, T=one.T, **size)

    def _force(self, site: AtSaddle, one: Bears) -> tuple[Any, str]:
        """The most that a mm of the weld carries [N/mm], and how it was counted."""
        if site.tube.round:
            mean = work(
                weld.tube_fillet_force, D=site.tube.wide, N=one.N, V=one.V, M=one.M, T=one.T
            )
            words = f"{UNEVEN:g} times the mean round it, on a ring as if cut square"
            return UNEVEN * mean.value, words
        size = self._square(site)
        uneven, mean = (
            work(box_end.box_fillet_force, **(size | counts), **one.rocked).value
            for counts in ({}, {"b_e": size["b"]})
        )
        words = (
            f"{UNEVEN:g} times the mean round it, or as on a flat face that wide, as if cut square"
        )
        return np.maximum(uneven, UNEVEN * mean), words

    def _wall(self, site: AtSaddle, one: Bears, f_y: Any, case: LoadCase) -> Iterator[Check]:
        wide, thin = self.tube.width_mm, self.tube.wall_mm
        size: dict[str, Any] = {
            "d0": wide, "t0": thin, "f_y": f_y * Wall(wide, thin, f_y).counted.value,
            "k": work(tube_wall.chord_factor, n=TUBE_USED),
        }  # fmt: skip
        if site.tube.round:
            size["d1"] = np.minimum(site.tube.wide, wide)
            pull = work(tube_wall.post_pull, **size)
            along = work(tube_wall.post_moment_along, **size)
            across = work(tube_wall.post_moment_across, **size)
        else:
            size["h"], size["b"] = self.sides(site)
            pull = work(box_end.round_pull, **size)
            along = work(box_end.round_moment_along, **size)
            across = work(box_end.round_moment_across, **size)
        yield self._wall_use(site, one, case, pull, along, across)
        if not site.tube.round:
            torn = plain(self._force(site, one)[0]) / site.tube.wall
            yield self._torn(site, torn, size["f_y"], case)

    def _wall_use(
        self,
        site: AtSaddle,
        one: Bears,
        case: LoadCase,
        pull: Worked,
        along: Worked,
        across: Worked,
    ) -> Check:
        """The wall under what it bears, by what it would bear of each alone."""
        return check(
            f"{site.name}, wall of the other tube", "tube wall", load_case=case.name, unit="-", capacity=1.0,
            required=site.required(case).on_yield,
            demand=work(tube_wall.wall_use, N=one.square, N_R=pull, M_i=one.along, M_iR=along,
                M_o=self._aside(one), M_oR=across),
            note=f"dented, rocked or punched; that tube taken as {TUBE_USED:.0%} used in compression",
        )  # fmt: skip

    def _torn(self, site: AtSaddle, stress: Any, f_y: Any, case: LoadCase) -> Check:
        """The wall under it, sheared out by the largest stress that the tube pulls with [MPa]."""
        return check(
            f"{site.name}, wall of the other tube torn out", "punching", load_case=case.name, unit="MPa",
            demand=stress, required=site.required(case).on_yield,
            capacity=work(tube_wall.punching_stress, t0=self.tube.wall_mm, t1=2.0 * site.tube.wall, f_y=f_y),
            note="the most that the tube pulls anywhere round it; one plane shears where a plate has two",
        )  # fmt: skip

    def _aside(self, one: Bears) -> Any:
        """Moment that rocks it across the neighbour, from whose middle it may stand off [N*mm]."""
        return one.across + one.square * np.abs(self.offset)

    def _peaks(self, site: AtSaddle) -> tuple[Worked, Worked, Worked]:
        """Peaks at the toe of a force along, and of moments along the neighbour and across it [-]."""
        size = {
            "d0": self.tube.width_mm, "t0": self.tube.wall_mm, "d1": np.minimum(site.tube.wide, self.tube.width_mm),
            "t1": site.tube.wall, "theta": self.flat_angle,
        }  # fmt: skip
        rows = (tube_joint.axial_peak, tube_joint.peak_along, tube_joint.peak_across)
        if site.tube.round:
            along, rocked, across = (work(method, **size) for method in rows)
            return along, rocked, across
        h, b = self.sides(site)
        size |= {"d1": b, "t1": size["t0"]}
        upright = size | {"theta": np.pi / 2.0}
        along, rocked, across = (
            work(
                box_end.round_peak, k_r=np.maximum(method(**size), method(**upright)), b=b, h=h, c=c
            )
            for method, c in zip(rows, (box_end.PULLED, box_end.ALONG, box_end.PULLED), strict=True)
        )
        return along, rocked, across

    def details(self, site: AtSaddle, modes: Modes) -> Sequence[Detail]:
        """The toe, by the stress that peaks there, and the root."""
        k_N, k_i, k_o = self._peaks(site)
        area, W = site.tube.section.area, site.tube.modulus

        def toe(case: LoadCase) -> Worked:
            one = site.bears(case)
            return work(tube_joint.toe_stress, N=one.N, M_i=one.along, M_o=self._aside(one), A=area, W=W,
                k_N=k_N, k_i=k_i, k_o=k_o)  # fmt: skip

        throat = work(root.fillet_throat, h=self.size(site) * self.throat(site) / weld.THROAT)

        def through(case: LoadCase) -> Any:
            return plain(self._force(site, site.bears(case))[0]) / throat.value

        return [
            Weld(f"{site.name}, toe", site.metal, toe, TOE),
            Weld(f"{site.name}, weld root", site.metal, through, ROOT),
        ]


class Open(Group):
    """An end that is cut square and stays open, as for a bung."""

    type: Literal["square"] = Field("square", description="Cut square, and not welded here.")
    short: NonNegativeLength = Field(0.0, description="How far short of the point it is cut.")

    def cut(self, name: str, way: float) -> TubeEnd:
        return TubeEnd(name, gap=self.short)
