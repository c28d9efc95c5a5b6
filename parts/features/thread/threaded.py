"""Threaded ends: a male thread behind an undercut, a tapped hole with its relief, and what each bears."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.loads import Action, LoadCase, Required, resultant
from parts.core.rules import Rule, at_least
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.bolted import jam_nut, stripping, threads_loaded
from parts.strength.bolted import thread as strip
from parts.strength.method import Worked, work
from parts.strength.section import bar

if TYPE_CHECKING:
    import cadquery as cq

LEAST_ENGAGEMENT = 1.0
"""Engagement in diameters of the thread [-]; common practice for steel in steel, no source."""
WIDE = 1e4
"""Outside diameter of a tapped part so wide that it does not swell [mm]."""
LEAST_FRICTION = 0.08
"""Of a thread, oiled or plated [-]; common practice, no source."""
NO_TWIST = 1e-6
"""Below this a twist is the round-off of a load that goes through the axis [N*mm]."""
BEYOND = 2.0
"""Full diameter drilled beyond a thread without a relief where no file says more, in pitches [-]."""
BeyondThread = Annotated[
    float,
    Field(
        ge=1.0,
        le=10.0,
        description="Full diameter drilled beyond the thread where no relief is cut, in pitches.",
    ),
]
DRILL_POINT = np.tan(np.radians(31.0))
"""Depth of a 118 degree drill's point per unit of radius."""


def engagement_rule(
    field: str, engagement: Any, thread: Thread, share: float = LEAST_ENGAGEMENT
) -> Rule:
    """At least `share` diameters of thread must be engaged."""
    return at_least(
        "thread.engagement", field, engagement, share * thread.major,
        f"{thread.designation} needs {share:g} diameters of engagement (common practice, no source)",
        "lengthen the thread, or choose a smaller one",
    )  # fmt: skip


def tension_modes(
    name: str, thread: Thread, material: Material, tension: Any, case: str, required: Required
) -> Iterator[Check]:
    """Tension across the stress area of a male thread, against yield and ultimate."""
    area = strip.stress_area_unified if thread.is_inch else strip.stress_area_iso
    stress = work(
        bar.direct_stress, F=np.abs(tension), A=work(area, d=thread.major, p=thread.pitch)
    )
    for kind, strength, factor in required.both(
        material.yield_strength, material.ultimate_strength
    ):
        yield check(
            f"{name} thread, {kind}", "thread tension", load_case=case, demand=stress, capacity=strength,
            unit="MPa", required=factor,
        )  # fmt: skip


def combined_modes(
    name: str,
    thread: Thread,
    material: Material,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Pull, bending and twist together on the stress area of a male thread, against yield and ultimate.

    Args:
        name: prefix of the checks' names.
        thread: the thread.
        material: of the male thread.
        force: what acts across its first engaged turn, shape (..., 3), x along the thread [N].
        moment: likewise, about that turn's middle [N*mm].
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Two checks.
    """
    area = strip.stress_area_unified if thread.is_inch else strip.stress_area_iso
    round_bar = np.sqrt(4.0 / np.pi * area(d=thread.major, p=thread.pitch))
    stress = work(
        bar.round_bar_stress, F=force[..., 0], M=np.hypot(moment[..., 1], moment[..., 2]), T=moment[..., 0],
        D=round_bar,
    )  # fmt: skip
    for kind, strength, factor in required.both(
        material.yield_strength, material.ultimate_strength
    ):
        yield check(
            f"{name} thread, pull with bending, {kind}", "thread bending", load_case=case, demand=stress,
            capacity=strength, unit="MPa", required=factor, note="round bar of the thread's stress area",
        )  # fmt: skip


def pull_of(thread: Thread, force: Any, moment: Any) -> Worked:
    """The pull that loads all of a thread as hard as a force along x and a moment load its worst side [N]."""
    return work(
        threads_loaded.moment_as_pull, N=force[..., 0], M=np.hypot(moment[..., 1], moment[..., 2]),
        d2=thread.pitch_diameter,
    )  # fmt: skip


def bent_by(thread: Thread, actions: Callable[[LoadCase], Sequence[Action]], case: LoadCase) -> Any:
    """Stress of a thread under moments alone, of actions that are the same all along it [MPa]."""
    _, moment = resultant(actions(case), np.zeros(3))
    area = strip.stress_area_unified if thread.is_inch else strip.stress_area_iso
    round_bar = np.sqrt(4.0 / np.pi * area(d=thread.major, p=thread.pitch))
    return bar.round_bar_stress(
        0.0, np.hypot(moment[..., 1], moment[..., 2]), moment[..., 0], round_bar
    )


def twist_modes(
    name: str, thread: Thread, force: Any, moment: Any, case: str, required: Required
) -> Iterator[Check]:
    """A twist about the thread's axis, which unscrews it one way.

    Arguments as for `combined_modes`.
    """
    twist = np.abs(moment[..., 0])
    yield check(
        f"{name} thread, unscrewed by the twist", "unscrewing", load_case=case, unit="N*mm",
        demand=np.where(twist > NO_TWIST, twist, 0.0), required=required.on_yield,
        capacity=work(
            jam_nut.torque_held_loose, P=np.abs(force[..., 0]), d2=thread.pitch_diameter, p=thread.pitch,
            mu=LEAST_FRICTION,
        ),
        note="no bite of a jam nut is counted, only what the load along the thread holds by friction",
    )  # fmt: skip


def strip_modes(
    name: str,
    thread: Thread,
    outer: Material | float,
    inner: Material,
    engagement: Any,
    tension: Any,
    case: str,
    required: Required,
    around: Any = WIDE,
) -> Iterator[Check]:
    """Stripping of both threads of a joint, at minimum material.

    Args:
        name: prefix of the checks' names.
        thread: the thread; its class, or the usual one, gives the limits.
        outer: material of the male thread, or its ultimate shear strength [MPa].
        inner: material of the tapped hole.
        engagement: length of full thread engaged [mm].
        tension: pull across the thread [N], as that of `pull_of` where a moment bends it too.
        case: name of the load case.
        required: the factors asked for.
        around: outside diameter of the tapped boss, or across its flats [mm]; a thin one swells.

    Returns:
        Two checks.
    """
    strengths = strip_strengths(
        thread, engagement, outer.shear_ultimate if isinstance(outer, Material) else outer,
        inner.shear_ultimate, around,
    )  # fmt: skip
    for side, strength in zip(("male", "female"), strengths, strict=True):
        yield check(
            f"{name} {side} thread strip", "thread strip", load_case=case,
            demand=tension if isinstance(tension, Worked) else np.abs(tension), capacity=strength,
            unit="N", required=required.on_ultimate,
        )  # fmt: skip


def strip_strengths(
    thread: Thread, engagement: Any, male: Any, female: Any, around: Any = WIDE
) -> tuple[Worked, Worked]:
    """Pull at which the male and the female thread of a joint strip [N], at minimum material; see `strip_modes`.

    `male` and `female` are their ultimate shear strengths [MPa]; flanks that bend under each other and a boss that
    swells are counted.
    """
    bolt, nut = thread.external(), thread.internal()
    swell = work(stripping.dilation_factor, D_o=around, d=thread.major)
    outer = work(
        stripping.external_strip_area, p=thread.pitch, L_e=engagement, D1_max=nut.minor_max, d2_min=bolt.pitch_min
    )  # fmt: skip
    inner = work(
        stripping.internal_strip_area, p=thread.pitch, L_e=engagement, d_min=bolt.major_min, D2_max=nut.pitch_max
    )  # fmt: skip
    R = work(stripping.strip_strength_ratio, A_int=inner, tau_int=female, A_ext=outer, tau_ext=male)
    return (
        work(
            stripping.strip_capacity, A=outer, tau=male, C1=swell, C=work(stripping.external_bending_factor, R=R)
        ),
        work(
            stripping.strip_capacity, A=inner, tau=female, C1=swell, C=work(stripping.internal_bending_factor, R=R)
        ),
    )  # fmt: skip


def tapped_hole(
    thread: Thread,
    depth: float,
    *,
    relief: bool,
    through: bool,
    edge_break: float,
    beyond: Any = BEYOND,
) -> cq.Workplane:
    """What is cut away for a tapped hole that enters at x = 0 and runs to -x.

    The hole is modelled at the minor diameter, with a countersink to the major diameter at its mouth; a
    blind one ends in the drill's point, behind a relief groove where asked.

    Args:
        thread: the thread.
        depth: length of full thread [mm]; the whole length of a through hole.
        relief: cut a groove behind the thread of a blind hole.
        through: the hole goes through.
        edge_break: added to the countersink [mm].
        beyond: how much further a blind hole is drilled where it has no groove, in pitches [-].

    Returns:
        The tool.
    """
    from parts.shapes.profile import cone, cylinder

    d = thread.minor_internal
    groove = thread.relief("internal")
    total = depth + behind_thread(thread, relief=relief, beyond=beyond)
    tool = cylinder(d, -depth - 1.0 if through else -total, 1.0, "x")
    if not through:
        point = d / 2.0 * DRILL_POINT
        tool = tool.union(cone(0.0, d, -total - point, -total, "x"))
        if relief:
            tool = tool.union(cylinder(groove.diameter, -total, -depth, "x"))
    mouth = thread.major + 2.0 * edge_break
    return tool.union(cone(d, mouth + 2.0, -(mouth - d) / 2.0, 1.0, "x"))


def blind_depth(thread: Thread, depth: Any, *, relief: bool, beyond: Any = BEYOND) -> Any:
    """Depth of a blind tapped hole to the tip of the drill's point [mm]."""
    return (
        depth
        + behind_thread(thread, relief=relief, beyond=beyond)
        + thread.minor_internal / 2.0 * DRILL_POINT
    )


def behind_thread(thread: Thread, *, relief: bool, beyond: Any = BEYOND) -> Any:
    """Length of a blind tapped hole between its full thread and the drill's point [mm]."""
    return thread.relief("internal").total_width if relief else beyond * thread.pitch


def tapped_mouth(thread: Thread, edge_break: Any) -> Any:
    """Depth of the countersink of a tapped hole [mm]."""
    return (thread.major - thread.minor_internal) / 2.0 + edge_break
