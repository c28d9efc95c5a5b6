"""An end of a tube that is coped to another tube and welded round it: the cut, the weld, the wall under it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import ROOT, Detail, Weld
from parts.core.feature import Answers, Modes, Site
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.tube_ends import TubeEnd
from parts.core.ways import Kind
from parts.families.coped_tube.hollow import Hollow
from parts.features.bolts.hardware import matching
from parts.features.weld.plate_edge import SHEAR_SHARE, TUBE_USED, Wall
from parts.inputs.designations import MaterialName, TubeName
from parts.inputs.quantities import Angle, Length, NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, plain, work
from parts.strength.welded import root, tube_joint, tube_wall, weld

UNEVEN = 1.5
"""Peak over mean of what the weld round a saddle carries [-]: AWS D1.1, tubular connections, from memory; tests on six
joints found it very conservative (Tousignant & Packer, J. Constr. Steel Research 138, 2017). A flat face of up to 30
walls leaves of the half that runs across it a third (10 t0/b0: EN 1993-1-8, 7.3.1): 2/(1 + 1/3) is as much."""
OPENEST = 0.5
"""Throat of the fillet over its leg at the flanks of a saddle, which two tubes meet at up to 120 degrees [-]: half of
it, by geometry."""
TOE = "toe of a fillet weld, hot-spot stress"


def weldable(field: str, metal: Material) -> Rule:
    """Something may be counted on beside a weld of a metal."""
    return matching(
        "cope.weldable", field, bool(metal.weld_zones),
        f"nothing may be counted on beside a weld of {metal.name} (weldability: {metal.weldability})",
        "choose a metal that is welded",
    )  # fmt: skip


class Bears(NamedTuple):
    """What an end bears: along the tube, across it, square to the neighbour [N]; moments that rock it along the
    neighbour and across it, and torque about its own axis [N*mm]. All without signs."""

    N: Any
    V: Any
    square: Any
    along: Any
    across: Any
    T: Any

    @property
    def M(self) -> Any:
        """Bending of the tube [N*mm]."""
        return np.hypot(self.along, self.across)


@dataclass(frozen=True, kw_only=True)
class AtSaddle(Site):
    """An end of a tube; `name` is `end a` or `end b`.

    Attributes:
        tube: the tube.
        soft: the tube's metal beside the weld.
        bears: what the end bears under a load case.
    """

    tube: Hollow
    soft: Material
    bears: Callable[[LoadCase], Bears]


class Beside(Group):
    """A tube that a tube's end meets."""

    tube: TubeName = Field(description="The tube that it meets, by outside diameter and wall.")
    angle: Angle = Field(
        np.pi / 2.0, description="Angle between the two centre lines, on the side of `turn`."
    )
    turn: Angle = Field(
        0.0, description="Where round the tube that side lies, from y toward z of the part."
    )
    offset: Length = Field(
        0.0, description="How far the other tube's centre line passes beside the tube's own."
    )

    def end(self, name: str, way: float, gap: Any, others: tuple[TubeEnd, ...] = ()) -> TubeEnd:
        """The cut, in the axes of an end whose tube runs along +x (way 1) or -x (way -1)."""
        return TubeEnd(
            name, self.tube.width_mm, self.angle, -way * self.offset, gap, way * self.turn, others
        )

    def frame(self, way: float) -> Any:
        """Rows: along the tube away from the node, square to it on the side of `turn`, square to both; in the part's
        axes, shape (..., 3, 3)."""
        c, s = np.cos(self.turn), np.sin(self.turn)
        i = np.broadcast_to(np.array([way, 0.0, 0.0]), (*np.shape(c), 3))
        n = np.stack([0.0 * c, c, s], axis=-1)
        return np.stack([i, n, np.cross(i, n)], axis=-2)

    def runs(self, way: float) -> tuple[Any, Any]:
        """A place on its centre line beside the node [mm], and the way that it runs on the side of its angle."""
        i, n, m = np.moveaxis(self.frame(way), -2, 0)
        cos, sin = (np.asarray(v)[..., None] for v in (np.cos(self.angle), np.sin(self.angle)))
        return way * np.asarray(self.offset)[..., None] * m, cos * i + sin * n

    def way_rules(self, field: str, outside: Any, gap: Any) -> Iterator[Rule]:
        """Rules of how it runs, for a tube of that diameter [mm]."""
        for kind, code, value, limit in (
            (at_least, "flat", self.angle, np.radians(30.0)),
            (at_most, "steep", self.angle, np.radians(150.0)),
        ):
            yield kind(f"cope.{code}", f"{field}.angle", value, limit,
                "so flat a heel cannot be welded (30 degrees; EN 1993-1-8, 7.1.2)",
                "keep between 30 and 150 degrees", "deg")  # fmt: skip
        yield from self._wide_rule(field, outside, gap)

    def _wide_rule(self, field: str, outside: Any, gap: Any) -> Iterator[Rule]:
        reach = outside / 2.0 + np.abs(self.offset)
        yield at_most("cope.wide", f"{field}.tube", reach, self.tube.width_mm / 2.0 + gap,
            "the tube reaches past the one that it stands on", "choose a wider one, or less offset")  # fmt: skip


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

    def across(self, site: AtSaddle) -> Any:
        """How wide the tube is across the one that it meets [mm]."""
        return site.tube.wide

    def rules(self, site: AtSaddle) -> Iterator[Rule]:
        """Rules of the cut, the weld and the neighbour."""
        field, outside, wall = site.field, self.across(site), site.tube.wall
        yield from self._kind_rules(site)
        yield from self.way_rules(field, outside, self.gap)
        for k, other in enumerate(self.beside):
            yield from list(other.way_rules(f"{field}.beside[{k}]", outside, self.gap))[:2]
        leg = self.size(site)
        rows: Sequence[tuple[Any, ...]] = (
            *self._neighbour(outside),
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

    def _kind_rules(self, site: AtSaddle) -> Iterator[Rule]:
        yield matching(
            "cope.round", f"{site.field}.type", site.tube.round,
            "a rectangular tube on a round one is not covered: no peak is known at its corners",
            "saw it to the flat face of a tube, `type: on a box`, or make it of round tube",
        )  # fmt: skip

    def _neighbour(self, outside: Any) -> Sequence[tuple[Any, ...]]:
        """Rules of the other tube's size, as rows."""
        return (
            (at_least, "narrow", "tube", outside, 0.2 * self.tube.width_mm,
             "so thin a tube dents the other (EN 1993-1-8, 7.4.2: 0.2 of its width)", "choose a wider one"),
            (at_most, "slack", "tube", self.tube.width_mm / self.tube.wall_mm, 50.0,
             "no standard covers a weld on so thin a wall (EN 1993-1-8, 7.1.2)", "choose a thicker wall"),
        )  # fmt: skip

    @property
    def flat_angle(self) -> Any:
        """Angle between the two centre lines, the lesser [rad]."""
        return np.minimum(self.angle, np.pi - np.asarray(self.angle, float))

    @property
    def throat(self) -> Any:
        """Throat of the fillet over its leg where the two tubes meet flattest [-]."""
        return np.minimum(OPENEST, np.sin(self.flat_angle / 2.0))

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
                capacity=work(weld.fillet_capacity, h=self.size(site) * self.throat / weld.THROAT,
                    t=np.minimum(site.tube.wall, self.tube.wall_mm), S_w=shear, tau_haz=shear, sigma_haz=strength),
                note=f"{how}; throat of {float(np.min(self.throat)):.2g} legs, as where the tubes meet flattest",
            )  # fmt: skip
        yield from self._wall(site, one, strengths[0], case)

    def _beside(self, site: AtSaddle, one: Bears) -> Worked:
        """Stress in the tube beside its weld [MPa]."""
        size = {"D": site.tube.wide, "t": site.tube.wall}
        return work(weld.tube_butt_stress, N=one.N, V=one.V, M=one.M, T=one.T, **size)

    def _force(self, site: AtSaddle, one: Bears) -> tuple[Any, str]:
        """The most that a mm of the weld carries [N/mm], and how it was counted."""
        mean = work(weld.tube_fillet_force, D=site.tube.wide, N=one.N, V=one.V, M=one.M, T=one.T)
        return (
            UNEVEN * mean.value,
            f"{UNEVEN:g} times the mean round it, on a ring as if cut square",
        )

    def _wall(self, site: AtSaddle, one: Bears, f_y: Any, case: LoadCase) -> Iterator[Check]:
        wide, thin = self.tube.width_mm, self.tube.wall_mm
        size = {
            "d0": wide, "t0": thin, "d1": np.minimum(site.tube.wide, wide),
            "f_y": f_y * Wall(wide, thin, f_y).counted.value,
            "k": work(tube_wall.chord_factor, n=TUBE_USED),
        }  # fmt: skip
        bears = (tube_wall.post_pull, tube_wall.post_moment_along, tube_wall.post_moment_across)
        pull, along, across = (work(method, **size) for method in bears)
        yield self._wall_use(site, one, case, pull, along, across)

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
                M_o=one.across + one.square * np.abs(self.offset), M_oR=across),
            note=f"dented, rocked or punched; that tube taken as {TUBE_USED:.0%} used in compression",
        )  # fmt: skip

    def _peaks(self, site: AtSaddle) -> tuple[Worked, Worked, Worked]:
        """Peaks at the toe of a force along, and of moments along the neighbour and across it [-]."""
        size = {
            "d0": self.tube.width_mm, "t0": self.tube.wall_mm, "d1": np.minimum(site.tube.wide, self.tube.width_mm),
            "t1": site.tube.wall, "theta": self.flat_angle,
        }  # fmt: skip
        joint = tube_joint
        return (
            work(joint.axial_peak, **size), work(joint.peak_along, **size), work(joint.peak_across, **size)
        )  # fmt: skip

    def details(self, site: AtSaddle, modes: Modes) -> Sequence[Detail]:
        """The toe, by the stress that peaks there, and the root."""
        k_N, k_i, k_o = self._peaks(site)
        area, W = site.tube.section.area, site.tube.modulus

        def toe(case: LoadCase) -> Worked:
            one = site.bears(case)
            return work(tube_joint.toe_stress, N=one.N, M_i=one.along, M_o=one.across, A=area, W=W,
                k_N=k_N, k_i=k_i, k_o=k_o)  # fmt: skip

        throat = work(root.fillet_throat, h=self.size(site) * self.throat / weld.THROAT)

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
