"""A link as a column: buckling of the slender assembly, side load, and what bends it beside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.families.links.adjustment import Adjustment
from parts.families.links.statics import Borne
from parts.standards.materials.materials import Material
from parts.strength.columns import column
from parts.strength.columns import link as link_
from parts.strength.method import Worked, plain, work
from parts.strength.pinned import ball_friction
from parts.strength.section.properties import Section


class ColumnBody(NamedTuple):
    """The body of a link as a column: its weakest section along most of its length.

    `I` is its least second moment of area [mm^4], `c` the distance to its outermost fibre [mm]. `middle` is the
    least area [mm^2] and the least section modulus [mm^3] near the middle, where a push bends it most: beside a hole
    or flats there, if any.
    """

    material: Material
    area: Any
    I: Any  # noqa: E741  (the symbol of the field)
    c: Any
    mass_per_length: Any
    middle: tuple[Any, Any]


def column_body(metal: Material, section: Section, c: Any) -> ColumnBody:
    """A body as a column, as strong in the middle as elsewhere; `c` is the distance to its outermost fibre [mm]."""
    least = np.minimum(section.Iyy, section.Izz)
    return ColumnBody(
        metal, section.area, least, c, metal.density * section.area, (section.area, least / c)
    )


class Rubbing(NamedTuple):
    """What rubs where an end swings: the diameter of its ball or pin [mm], and the friction there [-]."""

    diameter: Any
    friction: Any

    @property
    def arm(self) -> Any:
        """How far off the axis a force would bend the link as its friction does [mm]."""
        return 0.5 * self.friction * self.diameter


@dataclass(frozen=True)
class LinkColumn:
    """A link as a column at its longest, pinned at both ends: its body, its lengths and ends, what the shanks are
    made of, how far the load may stand off the axis at both pins [mm], and what rubs there.

    A ball or pin that swings under load keeps its friction's moment, and that bends the link as a load off its axis
    would. Of both ends the greater counts, all along. `shaken` is the acceleration across it, in multiples of gravity:
    a force at the middle of half its weight bends the middle as much as all of it, spread.

    What it bears is the same under every load case and is worked out once.
    """

    body: ColumnBody
    link: Adjustment
    shanks: tuple[Material, Material]
    eccentricity: Any
    rubbing: tuple[Rubbing, Rubbing]
    shaken: Any = 0.0

    @cached_property
    def _pieces(self) -> tuple[tuple[Any, Any], ...]:
        """Bending stiffness [N*mm^2] and length [mm] of shank, body and shank; shanks on their minor diameter."""
        link, longest = self.link, self.link.lengths.maximum
        first, last = (
            (steel.E * np.pi / 64.0 * end.thread.minor_external**4, link.bare(i, longest))
            for i, (steel, end) in enumerate(zip(self.shanks, link.ends, strict=True))
        )
        return first, (self.body.material.E * self.body.I, link.body), last

    def _named(self, i: int = 0) -> dict[str, Any]:
        """The pieces as arguments, counted from end i."""
        one, two, three = self._pieces[::-1] if i else self._pieces
        return {
            "EI_1": one[0], "L_1": one[1], "EI_2": two[0], "L_2": two[1], "EI_3": three[0], "L_3": three[1]
        }  # fmt: skip

    @cached_property
    def stepped(self) -> Worked:
        """Elastic buckling load [N] of shank, body and shank."""
        return work(column.stepped_load, **self._named())

    @cached_property
    def alike(self) -> Any:
        """Length of the uniform column of the body's section that buckles at the same elastic load [mm]; no less
        than the link's own."""
        m = self.body.material
        alike = np.pi * np.sqrt(m.E * self.body.I / self.stepped.value)
        return np.maximum(alike, self.link.lengths.maximum)

    @cached_property
    def crushed(self) -> Worked:
        """Load at which the body buckles on that length [N]."""
        m = self.body.material
        return work(
            column.johnson_euler_load, E=m.E, A=self.body.area, I_min=self.body.I, L=self.alike,
            F_cy=m.yield_strength,
        )  # fmt: skip

    @cached_property
    def eccentric(self) -> Worked:
        """Load off the axis at which the middle of the body yields on that length [N]."""
        m, (area, modulus) = self.body.material, self.body.middle
        return work(
            column.secant_load, E=m.E, A=area, I_e=self.body.I, c=self.body.I / modulus,
            e=self.eccentricity + self._rubs_most.arm, L=self.alike, F=m.yield_strength,
        )  # fmt: skip

    @cached_property
    def _rubs_most(self) -> Rubbing:
        a, b = self.rubbing
        more = np.greater_equal(a.arm, b.arm)
        return Rubbing(*(np.where(more, one, other)[()] for one, other in zip(a, b, strict=True)))

    def friction(self, load: Borne) -> Worked:
        """Moment of the friction at either pin, the greater of both [N*mm]."""
        of, force = self._rubs_most, np.maximum(load.on_end(0).whole, load.on_end(1).whole)
        return work(ball_friction.friction_moment, F=force, d=of.diameter, mu=of.friction)

    def beside(self, load: Borne, i: int, x: Any, n: float) -> Worked:
        """Moment at x [mm] from the pin of end i, beside that of the forces across the link [N*mm].

        That of a load off its axis and of the friction at its pins, which a push grows by the bow it causes and a
        pull does not; and what a push adds to the bending of a side load. A push bends more than in proportion: it
        grows them as `n` times the load does, that the link is to bear.
        """
        P, rubs = np.maximum(load.push, load.pull), self.friction(load)
        n = self._borne(P, n)
        if not np.any(np.asarray(load.push) > 0.0):
            off = work(column.bow_moment, P=P, a=self.eccentricity, P_E=np.inf)
            return work(link_.moments_together, M_1=off, M_2=rubs)
        off = self._off_axis(P, self.eccentricity, rubs, i, x, n)
        weight = work(column.inertia_load, m=self.body.mass_per_length, n=self.shaken)
        side = load.sideways + 0.5 * plain(weight) * self.link.lengths.maximum
        if not np.any(np.asarray(side) > 0.0):
            return off
        added = work(
            link_.added_by_push, **self._named(i), F=side, P=load.push, P_E=self.stepped, x=x, n=n
        )  # fmt: skip
        return work(link_.moments_together, M_1=off, M_2=added)

    def _borne(self, P: Any, n: float) -> Any:
        """How many of `n` times a push P [N] is borne before the link buckles [-]."""
        return column.borne_before(P, plain(self.stepped), n)

    def rubbed(self, load: Borne, i: int, x: Any) -> Worked:
        """The part of `beside` that the friction makes, which changes its sign with every swing [N*mm]."""
        rubs = self.friction(load)
        if not np.any(np.asarray(load.push) > 0.0):
            return rubs
        return self._off_axis(
            np.maximum(load.push, load.pull),
            0.0,
            rubs,
            i,
            x,
            self._borne(load.push, 1.0),
        )

    def _off_axis(self, P: Any, e: Any, M_0: Any, i: int, x: Any, n: Any) -> Worked:
        """Moment of a push P [N] off its axis by e [mm], and M_0 at both pins, at x [mm] from that of end i
        [N*mm]."""
        return work(
            link_.off_axis_moment, **self._named(i), P=P, e=e, P_E=self.stepped, x=x, M_0=M_0, n=n
        )

    def bent(self, load: Borne, shaken: Any, n: float) -> Worked:
        """Largest compressive stress at the middle [MPa]: push, side load, own weight and push off the axis, grown by
        the push as `n` times the load grows them."""
        L, P, (area, modulus) = self.link.lengths.maximum, load.push, self.body.middle
        n = self._borne(P, n)
        weight = work(column.inertia_load, m=self.body.mass_per_length, n=shaken)
        own = work(column.uniform_load_moment, q=weight, L=L, P=P, P_E=self.stepped, n=n)
        knocked = work(column.middle_load_moment, F=load.sideways, L=L, P=P, P_E=self.stepped, n=n)
        off = self._off_axis(P, self.eccentricity, self.friction(load), 0, L / 2.0, n)
        return work(
            link_.pushed_and_bent_stress, P=P, A=area, M_1=knocked, M_2=own, M_3=off, W=modulus
        )


def column_modes(
    one: LinkColumn, load: Borne, shaken: Any, case: str, required: Required
) -> Iterator[Check]:
    """Buckling of the whole link at its longest, slender shanks and all; with a side load, its bending.

    Args:
        one: the link as a column.
        load: what acts on the link.
        shaken: acceleration across the link, in multiples of gravity.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        The checks.
    """
    body = one.body
    on: dict[str, Any] = {"load_case": case, "unit": "N"}
    side, shake = load.sideways, shaken * body.mass_per_length
    if np.any(np.asarray(side) > 0.0) or np.any(np.asarray(shake) > 0.0):
        yield _side_check(one, load, shaken, case, required)
    if not np.any(np.asarray(load.push) > 0.0):
        return
    yield check(
        "buckling, shanks and body", "column buckling", demand=load.push, capacity=one.stepped,
        required=required.on_ultimate, note="at the longest, elastic, pinned at both ends", **on,
    )  # fmt: skip
    yield check(
        "buckling, body", "column buckling", demand=load.push, required=required.on_ultimate,
        capacity=one.crushed,
        note="on the length that the slender shanks make of it; compressive yield taken as tensile", **on,
    )  # fmt: skip
    yield check(
        "eccentric column", "column bending", demand=load.push, required=required.on_yield,
        capacity=one.eccentric,
        note=f"load off the axis by {float(np.max(one.eccentricity)):.3g} mm at both ends, and as far as friction of "
        "the pins is worth, at the longest", **on,
    )  # fmt: skip


def _side_check(one: LinkColumn, load: Borne, shaken: Any, case: str, required: Required) -> Check:
    return check(
        "side load on the column", "column bending", load_case=case, unit="MPa", required=required.on_yield,
        demand=one.bent(load, shaken, required.on_yield), capacity=one.body.material.yield_strength,
        note="push, off the axis as the link may stand; side load at the middle; the link's own weight times its "
        "shaking; at the longest, bent as far as the push times the required factor bends it",
    )  # fmt: skip
