"""How a link fails: buckling of the slender assembly, side load, stripped threads, the wall beside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.families.links.adjustment import Adjustment
from parts.families.links.rod_end import EndForce
from parts.families.links.statics import Borne
from parts.features.thread.threaded import strip_strengths
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.columns import column
from parts.strength.columns import link as link_
from parts.strength.method import Worked, work
from parts.strength.section import bar


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


@dataclass(frozen=True)
class LinkColumn:
    """A link as a column at its longest, pinned at both ends: its body, its lengths and ends, what the shanks are
    made of, and how far the load may stand off the axis at both pins [mm].

    What it bears is the same under every load case and is worked out once.
    """

    body: ColumnBody
    link: Adjustment
    shanks: tuple[Material, Material]
    eccentricity: Any

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
            e=self.eccentricity, L=self.alike, F=m.yield_strength,
        )  # fmt: skip

    def beside(self, load: Borne, i: int, x: Any) -> Worked:
        """Moment at x [mm] from the pin of end i, beside that of the forces across the link [N*mm].

        That of a load off its axis, which a push grows by the bow it causes and a pull does not; and what a push
        adds to the bending of a side load.
        """
        P = np.maximum(load.push, load.pull)
        if not np.any(np.asarray(load.push) > 0.0):
            return work(column.bow_moment, P=P, a=self.eccentricity, P_E=np.inf)
        off = self._off_axis(P, i, x)
        if not np.any(np.asarray(load.sideways) > 0.0):
            return off
        added = work(
            link_.added_by_push, **self._named(i), F=load.sideways, P=load.push, P_E=self.stepped, x=x
        )  # fmt: skip
        return work(link_.moments_together, M_1=off, M_2=added)

    def _off_axis(self, P: Any, i: int, x: Any) -> Worked:
        """Moment of a push P [N] off its axis at x [mm] from the pin of end i [N*mm]."""
        return work(
            link_.off_axis_moment, **self._named(i), P=P, e=self.eccentricity, P_E=self.stepped, x=x
        )

    def bent(self, load: Borne, shaken: Any) -> Worked:
        """Largest compressive stress at the middle [MPa]: push, side load, own weight and push off the axis."""
        L, P, (area, modulus) = self.link.lengths.maximum, load.push, self.body.middle
        weight = work(column.inertia_load, m=self.body.mass_per_length, n=shaken)
        own = work(column.uniform_load_moment, q=weight, L=L, P=P, P_E=self.stepped)
        knocked = work(column.middle_load_moment, F=load.sideways, L=L, P=P, P_E=self.stepped)
        off = self._off_axis(P, 0, L / 2.0)
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
        note=f"load off the axis by {float(np.max(one.eccentricity)):.3g} mm at both ends, at the longest", **on,
    )  # fmt: skip


def _side_check(one: LinkColumn, load: Borne, shaken: Any, case: str, required: Required) -> Check:
    return check(
        "side load on the column", "column bending", load_case=case, unit="MPa", required=required.on_yield,
        demand=one.bent(load, shaken), capacity=one.body.material.yield_strength,
        note="push, off the axis as the link may stand; side load at the middle; the link's own weight times its "
        "shaking; at the longest",
    )  # fmt: skip


def strip_modes(
    name: str,
    thread: Thread,
    male: Material,
    female: Material,
    engaged: Any,
    outside: Any,
    force: EndForce,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Stripping of the shank's thread and of the body's, at minimum material and at the longest.

    Args:
        name: prefix of the checks' names.
        thread: the thread.
        male: material of the shank.
        female: material of the body.
        engaged: full thread engaged at the longest [mm].
        outside: diameter of the body, or width across its flats [mm].
        force: what acts on the end.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Two checks.
    """
    strengths = strip_strengths(
        thread, engaged, male.shear_ultimate, female.shear_ultimate, outside
    )
    for side, strength in zip(("male", "female"), strengths, strict=True):
        yield check(
            f"{name} thread strip, {side}", "thread strip", load_case=case, unit="N",
            required=required.on_ultimate, demand=np.abs(force.pull), capacity=strength,
            note="least engagement, at the longest",
        )  # fmt: skip


def wall_modes(
    name: str,
    area: Any,
    thread: Thread,
    metal: Material,
    force: EndForce,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """The wall beside the thread, cut to the root of the thread and through the witness hole, in tension.

    Args:
        name: prefix of the checks' names.
        area: of the section at the witness hole, bored to the thread's minor diameter [mm^2].
        thread: the thread.
        metal: material of the body.
        force: what acts on the end.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Two checks.
    """
    root = area - np.pi / 4.0 * (thread.major**2 - thread.minor_internal**2)
    stress = work(bar.direct_stress, F=np.abs(force.pull), A=root)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield check(
            f"{name} wall beside the thread, {kind}", "net tension", load_case=case, unit="MPa",
            demand=stress, capacity=strength, required=factor,
            note="wall down to the root of the thread, at the witness hole",
        )  # fmt: skip


def local_modes(
    one: LinkColumn,
    tube: tuple[Any, Any],
    shaken: Any,
    load: Borne,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Wrinkling of a tube's wall under push and side load.

    Args:
        one: the link as a column.
        tube: outside diameter and wall [mm].
        shaken: acceleration across the link, in multiples of gravity.
        load: what acts on the link.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        One check; none without a push.
    """
    if not np.any(np.asarray(load.push) > 0.0):
        return
    m, (outside, wall) = one.body.material, tube
    yield check(
        "tube wall wrinkling", "local buckling", load_case=case, unit="MPa", required=required.on_ultimate,
        demand=one.bent(load, shaken),
        capacity=work(
            column.wall_buckling_stress, E=m.E, r=(outside - wall) / 2.0, t=wall, F_cy=m.yield_strength,
            nu=m.poisson,
        ),
        note="push and all that bends the middle, added; compressive yield taken as tensile",
    )  # fmt: skip


def soft_tube_modes(
    name: str,
    tube: tuple[Any, Any],
    soft: Material,
    bears: tuple[Any, Any, Any, Any],
    case: str,
    required: Required,
) -> Iterator[Check]:
    """The tube where the heat of a weld ends: there a link pushed and bent is bent most while still soft.

    Args:
        name: prefix of the checks' names.
        tube: its least area [mm^2] and section modulus [mm^3] up to there.
        soft: the metal as the weld leaves it.
        bears: force along and across [N], bending moment and torque [N*mm] there.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Two checks.
    """
    (area, modulus), (N, V, M, T) = tube, bears
    stress = work(bar.round_tube_stress, A=area, W=modulus, N=N, V=V, M=M, T=T)
    for kind, strength, factor in required.both(soft.yield_strength, soft.ultimate_strength):
        yield check(
            f"{name}, tube softened by the weld, {kind}", "weld", load_case=case, unit="MPa",
            demand=stress, capacity=strength, required=factor,
            note="where the heat of the weld ends, with all that bends the link there, at the longest",
        )  # fmt: skip
