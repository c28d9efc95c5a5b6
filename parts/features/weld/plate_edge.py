"""Fillet welds along both faces of a plate's edge on a tube: force on each mm, throat, the metal beside, the wall."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import HOT_SPOT, ROOT, TOE, Detail, Stress, Weld, demand_of
from parts.core.feature import Answers, Modes, Site
from parts.core.group import Group
from parts.core.loads import Action, LoadCase, Required
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, plain, work
from parts.strength.vectors import cross
from parts.strength.welded import box_wall, tube_joint, tube_wall, weld
from parts.strength.welded.line import Path

SHEAR_SHARE = 0.6
"""Shear strength of weld metal over its tensile strength: AISC 360-16, J2.4."""
CORRELATION = 1.0
"""Correlation factor of EN 1993-1-8, Table 4.1, at its largest: no steel is worse; it has no other metals."""
THROAT = weld.THROAT
TUBE_USED = 0.5
"""Compression along the tube that its wall is taken to bear besides, over its yield strength: nobody states it here.
Common practice, no source."""
ENDS = ("start", "toe")
"""Ends of a weld along an edge, in the order of its path."""
STRONGEST = 700.0
"""Yield strength [MPa] above which EN 1993-1-8 counts no more of a wall."""


class Seat(NamedTuple):
    """Where a plate's edge stands on a tube.

    `out` and `along` are unit vectors (..., 3): out of the tube toward the plate, and along the tube. `length` is that
    of the edge on the tube [mm]. The last says whether the plate stands across the tube.
    """

    out: Any
    along: Any
    length: Any
    across: bool = False


class Wall(NamedTuple):
    """The wall of a tube under a plate: outside width [mm], thickness [mm], yield strength beside the weld [MPa]; flat
    on square and rectangular tubes."""

    width: Any
    thickness: Any
    yield_strength: Any
    flat: bool = False

    @property
    def counted(self) -> Worked:
        """What may be counted of the yield strength [-]."""
        return work(tube_wall.high_yield_factor, f_y=np.minimum(self.yield_strength, STRONGEST))

    @property
    def counts(self) -> Any:
        """Yield strength that is counted [MPa]."""
        return self.yield_strength * self.counted.value


class Joint(NamedTuple):
    """An edge welded to a tube on both faces: its path, at every station the normal of the tube, the length of each
    fillet [mm], and its seat."""

    path: Path
    normal: Any
    length: Any
    seat: Seat


@dataclass(frozen=True)
class Loaded:
    """A welded edge and the groups of actions on it: each is carried by a group of edges, this one first."""

    name: str
    joint: Joint
    groups: Sequence[tuple[Sequence[Joint], Sequence[Action]]]

    @cached_property
    def force(self) -> Any:
        """Force on each mm of this edge's two fillets at every station (..., m, 3) [N/mm]."""
        total: Any = np.zeros(3)
        stations = self.joint.path.lengths.shape[-1]
        for joints, actions in self.groups:
            path = joints[0].path
            for other in joints[1:]:
                path = path + other.path
            for action in actions:
                q = weld.line_force(path, action.force, action.moment, action.at)
                total = total + q[..., :stations, :]
        return total

    def at_end(self, where: str, thickness: Any, drawn: Any = 0.0) -> tuple[Any, Any, Any]:
        """Stress of the plate where its weld starts or ends at the toe [MPa]: square to the edge and shear of what both
        fillets hand on together, and bending across its thickness by what they hand on apart; that is at least `drawn`
        at the start."""
        half = self.force.shape[-2] // 2
        i = 0 if where == "start" else half - 1
        t = np.asarray(thickness, float)[..., None]
        front, back = self.force[..., i, :] / t, self.force[..., i - half, :] / t
        out, both = self.joint.seat.out, front + back
        square = np.sum(both * out, axis=-1)
        bent = 3.0 * np.abs(np.sum((front - back) * out, axis=-1))
        return (
            np.abs(square),
            np.linalg.norm(both - square[..., None] * out, axis=-1),
            np.maximum(bent, drawn) if where == "start" else bent,
        )

    def resultant(self, point: Any) -> tuple[Any, Any]:
        """What the edge carries: force [N] and moment [N*mm] about a point."""
        q = self.force * self.joint.path.lengths[..., None]
        arms = self.joint.path.points - np.asarray(point)[..., None, :]
        return q.sum(axis=-2), cross(arms, q).sum(axis=-2)


def unloaded(case: LoadCase) -> Loaded:
    """Nothing: of an edge whose rules alone are asked for."""
    raise ValueError("the edge has no loads")


@dataclass(frozen=True, kw_only=True)
class OnTube(Site):
    """A plate's edge on a tube; `name` is that of the edge.

    Attributes:
        under: the wall of the tube under the edge.
        prefix: begins the names of its checks.
        strengths: yield and ultimate strength beside the weld [MPa].
        loaded: the edge with what acts on it under a load case.
        drawn: bending across the thickness that a plate draws to the start of its weld under a load case [MPa].
    """

    under: Wall
    prefix: str = ""
    strengths: tuple[float, float] = (np.nan, np.nan)
    loaded: Callable[[LoadCase], Loaded] = unloaded
    drawn: Callable[[LoadCase], Any] = lambda _: 0.0

    @property
    def called(self) -> str:
        """The weld by its name."""
        return f"{self.prefix}weld {self.name}"


class PlateWeld(Group, Answers[OnTube]):
    """Equal-legged fillets along both faces of each welded edge."""

    leg: PositiveLength = Field(description="Leg of the fillets.")
    ends: Literal["returned", "stopped"] = Field(
        "returned",
        description="Returned round the toes and the relief, or stopped there, which costs a throat at each "
        "end.",
    )
    filler: str = Field(
        "",
        max_length=40,
        description="Filler metal, as ER70S-2; the weakest known for the metal where left out.",
    )

    @property
    def stop(self) -> Any:
        """Length at each end of a fillet that is not counted [mm]."""
        return self.leg * THROAT if self.ends == "stopped" else 0.0 * np.asarray(self.leg, float)

    def rules(self, site: OnTube) -> Iterator[Rule]:
        """Rules of the fillet between a plate and the thinnest tube wall."""
        field, thin = site.field, np.minimum(site.thickness, site.under.thickness)
        yield at_least(
            "weld.small", f"{field}.leg", self.leg, 0.8 * thin,
            "the fillet is smaller than the parts ask (0.8 of the thinner part: common practice, no source)",
            "make the leg larger",
        )  # fmt: skip
        yield at_most(
            "weld.large", f"{field}.leg", self.leg, 3.0 * thin,
            "so large a fillet burns through the thinner part (3 times: common practice, no source)",
            "make the leg smaller",
        )  # fmt: skip

    def strength(self, metals: Sequence[Material], thickness: float) -> tuple[float, float]:
        """Yield and ultimate strength beside the weld [MPa], of the weakest of the metals joined.

        Raises:
            UnknownDesignation: nothing may be counted on beside a weld of one of them.
        """
        zones = [metal.beside_weld(self.filler, thickness) for metal in metals]
        return min(z.yield_strength for z in zones), min(z.ultimate_strength for z in zones)

    def kinds(self, site: OnTube) -> Sequence[Kind]:
        return [Kind("plate weld", site.called), Kind("tube wall under a plate", site.called)]

    def modes(self, site: OnTube, case: LoadCase) -> Iterator[Check]:
        """The two fillets at their worst station, and the wall of the tube under them."""
        one, required, t = site.loaded(case), site.required(case), site.thickness
        behind = np.minimum(t / 2.0, site.under.thickness)
        yield from fillet_modes(
            one, self.leg, behind, site.strengths, case.name, required, site.prefix
        )
        for where in ENDS:
            square, shear, bent = one.at_end(where, t, site.drawn(case))
            stress = np.maximum(
                np.sqrt(3.0) * np.hypot(square, shear),
                np.hypot(square + bent, np.sqrt(3.0) * shear),
            )
            yield check(
                f"{site.prefix}plate at the weld's {where}, {one.name}, yield", "toe", load_case=case.name, unit="MPa",
                required=required.on_yield, demand=stress, capacity=site.strengths[0],
                note="√3 |q|/t with both fillets together, all of the force as shear; or as it acts, with 3 Δq/t, by "
                "which the fillets bend the plate across its thickness; nominal, for a static load",
            )  # fmt: skip
        yield from wall_modes(one, site.under, t, case.name, required, site.prefix)

    def details(self, site: OnTube, modes: Modes) -> Sequence[Detail]:
        """Root and toes of the fillets, in the plate and in the wall of the tube, for fatigue."""
        throat = demand_of(modes, f"{site.called}, throat, yield")

        def at(where: str) -> Stress:
            def stress(case: LoadCase) -> Any:
                end = site.loaded(case).at_end(where, site.thickness, site.drawn(case))
                return np.hypot(*end[:2]) + end[2]

            return stress

        return [
            Weld(f"{site.called}, root", site.metal, throat, ROOT),
            *(Weld(f"{site.called}, {where}", site.metal, at(where), TOE) for where in ENDS),
            Weld(
                f"{site.called}, toe in the tube's wall",
                site.metal,
                partial(self._at_wall, site),
                HOT_SPOT,
            ),
        ]

    def _at_wall(self, site: OnTube, case: LoadCase) -> Worked:
        """Stress of the tube's wall at the toe of the weld [MPa]."""
        acts, bears = wall_shares(site.loaded(case), site.under, site.thickness)
        shares = (
            one / np.asarray(plain(most), float) for one, most in zip(acts, bears, strict=True)
        )
        used = dict(zip(("u_N", "u_i", "u_o"), shares, strict=True))
        return work(tube_joint.toe_wall_stress, f_y=site.under.counts, **used)


def fillet_modes(
    one: Loaded, leg: Any, behind: Any, strengths: tuple[float, float], case: str, required: Required, prefix: str
) -> Iterator[Check]:  # fmt: skip
    """Throat and metal beside it at the worst station of a weld; `behind` is the metal that each fillet leans on [mm],
    `strengths` are yield and ultimate strength beside the weld [MPa]."""
    on = partial(check, load_case=case)
    q = one.force
    path = one.joint.path
    normal = np.broadcast_to(one.joint.normal, q.shape)
    along = np.broadcast_to(path.along, q.shape)
    size = np.linalg.norm(q, axis=-1)
    shear_yield, shear_ultimate = strengths[0] / np.sqrt(3.0), SHEAR_SHARE * strengths[1]
    worst = _at(q, np.argmax(size, axis=-1))
    kinds = (
        ("yield", shear_yield, strengths[0], required.on_yield),
        ("ultimate", shear_ultimate, strengths[1], required.on_ultimate),
    )
    twisted = np.asarray(
        weld.directional_stress(q, along, normal, THROAT * np.asarray(leg)[..., None])
    )
    k = np.argmax(twisted, axis=-1)
    for kind, shear, tension, factor in kinds:
        yield on(
            f"{prefix}weld {one.name}, throat, {kind}", "weld", demand=work(weld.throat_stress, q=worst, h=leg),
            capacity=shear, unit="MPa", required=factor, note="strength beside the weld, in shear",
        )  # fmt: skip
        yield on(
            f"{prefix}weld {one.name}, beside, {kind}", "weld", demand=np.linalg.norm(worst, axis=-1),
            unit="N/mm",
            capacity=work(
                weld.fillet_capacity, h=leg, t=behind, S_w=shear, tau_haz=shear, sigma_haz=tension,
            ),
            required=factor, note="of two fillets on a plate each has half of its thickness behind it",
        )  # fmt: skip
    yield on(
        f"{prefix}weld {one.name}, throat, second method", "weld", unit="MPa", required=required.on_ultimate,
        demand=work(
            weld.directional_stress, q=_at(q, k), along=_at(along, k), normal=_at(normal, k), a=THROAT * leg
        ),
        capacity=work(weld.directional_strength, f_u=strengths[1], beta_w=CORRELATION, gamma=1.0),
    )  # fmt: skip


def _at(rows: Any, index: Any) -> Any:
    """The row (..., 3) that stands at an index (...) among rows (..., m, 3)."""
    return np.take_along_axis(rows, np.asarray(index)[..., None, None], axis=-2)[..., 0, :]


def wall_shares(
    one: Loaded, under: Wall, thickness: Any
) -> tuple[tuple[Any, ...], tuple[Any, ...]]:
    """Force square to the wall [N], moment along the tube and moment across it [N*mm] of a whole edge, sizes alone; and
    what the wall bears of each."""
    seat, path = one.joint.seat, one.joint.path
    middle = (
        np.sum(path.points * path.lengths[..., None], axis=-2)
        / np.sum(path.lengths, axis=-1)[..., None]
    )
    force, moment = one.resultant(middle)
    acts = tuple(
        np.abs(np.sum(v * way, axis=-1))
        for v, way in (
            (force, seat.out),
            (moment, cross(seat.along, seat.out)),
            (moment, seat.along),
        )
    )
    return acts, _resistances(under, seat, thickness, under.counts)


def wall_modes(
    one: Loaded, under: Wall, thickness: Any, case: str, required: Required, prefix: str
) -> Iterator[Check]:
    """The wall of the tube under a plate's edge: dented or rocked by it, and torn out along it.

    Args:
        one: the edge and what acts on it.
        under: the wall.
        thickness: of the plate [mm].
        case: name of the load case.
        required: the factors asked for.
        prefix: begins the checks' names.

    Returns:
        Two checks.
    """
    seat, path = one.joint.seat, one.joint.path
    (push, rocked, tilted), (bears, along, across) = wall_shares(one, under, thickness)
    on = partial(check, load_case=case, required=required.on_yield)
    yield on(
        f"{prefix}weld {one.name}, tube wall", "tube wall", unit="-", capacity=1.0,
        demand=work(tube_wall.wall_use, N=push, N_R=bears, M_i=rocked, M_iR=along, M_o=tilted, M_oR=across),
        note=f"force and moments of the whole edge; the tube itself taken as {TUBE_USED:.0%} used in compression",
    )  # fmt: skip
    half = path.lengths.shape[-1] // 2
    square = np.sum(one.force * seat.out[..., None, :], axis=-1)
    torn = np.abs(square[..., :half] + square[..., half:]).max(axis=-1) / thickness
    yield on(
        f"{prefix}weld {one.name}, tube wall torn out", "punching", unit="MPa", demand=torn,
        capacity=work(tube_wall.punching_stress, t0=under.thickness, t1=thickness, f_y=under.counts),
        note="what pulls square to the tube at the worst station, as stress in the plate",
    )  # fmt: skip


def _resistances(under: Wall, seat: Seat, t: Any, f_y: Any) -> tuple[Worked | Any, ...]:
    """Force square to the wall, moment along the tube and moment across it that the wall bears [N, N*mm]."""
    size = {"t0": under.thickness, "f_y": f_y}
    sideways = work(tube_wall.sideways_plate_moment, t0=under.thickness, L=seat.length, f_y=f_y)
    if under.flat:
        b0 = under.width
        if not seat.across:
            k = work(box_wall.chord_factor_plate, n=TUBE_USED)
            whole = size | {"h": seat.length, "b": t, "b0": b0, "k": k}
            faces = (box_wall.face_pull, box_wall.face_moment_along, box_wall.face_moment_across)
            return tuple(work(one, **whole) for one in faces)
        k = work(box_wall.chord_factor_plate, n=TUBE_USED)
        pull = work(box_wall.transverse_plate_pull, b=seat.length, t1=t, b0=b0, k=k, **size)
        # Over the width as a beam's stress: the edge of the plate reaches what the whole bears at a sixth.
        return pull, sideways, pull.value * seat.length / 6.0
    k = work(tube_wall.chord_factor, n=TUBE_USED)
    if seat.across:
        whole = size | {"d0": under.width, "b": seat.length, "k": k}
        pull, moment = (
            work(one, **whole)
            for one in (tube_wall.transverse_plate_pull, tube_wall.transverse_plate_moment)
        )
        return pull, sideways, moment
    whole = size | {"d0": under.width, "h": seat.length, "k": k}
    pull, moment = (
        work(one, **whole)
        for one in (tube_wall.longitudinal_plate_pull, tube_wall.longitudinal_plate_moment)
    )
    return pull, moment, sideways
