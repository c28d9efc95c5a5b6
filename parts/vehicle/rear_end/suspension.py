"""A torsion-bar rear end: forces, rates and stress through the travel, and the free body of every part.

The wheel force follows from virtual work: F dz = T dθ, so F = i T with the motion ratio i = dθ/dz; the
wheel rate is its slope, c = k i² + T di/dz, where the second term comes from the geometry alone. Arm,
link, swing arm and frame count as rigid, joints as free of friction, and parts as weightless: the wheel
force is what the bar carries, without the unsprung mass.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.freebody import Acting, Balance, balance
from parts.strength.method import Number, method, work
from parts.strength.shafts import torsion_bar
from parts.strength.vectors import cross
from parts.vehicle.rear_end.linkage import UP, Line, Linkage, LinkageError, dot
from parts.vehicle.rear_end.motion import Motion, motion

STILL = 1e-9
"""Swing of a joint below which it is rounding's [rad]."""


@dataclass(frozen=True)
class Bar:
    """A torsion bar.

    Attributes:
        diameter: outside [mm].
        length: that twists; see `parts.strength.shafts.torsion_bar.taper_length` for its ends [mm].
        G: shear modulus [MPa].
        bore: of a hollow bar, 0 for a solid one [mm].

    Raises:
        LinkageError: a size is not more than nothing, or the bore leaves no wall.
    """

    diameter: Any
    length: Any
    G: Any
    bore: Any = 0.0

    def __post_init__(self) -> None:
        for name, value in (("diameter", self.diameter), ("length", self.length), ("G", self.G)):
            if not np.all(np.asarray(value) > 0.0):
                raise LinkageError(
                    f"the bar's {name} is {np.min(value):g}; it must be more than nothing"
                )
        if not np.all((np.asarray(self.bore) >= 0.0) & (np.asarray(self.bore) < self.diameter)):
            raise LinkageError(
                f"the bar's bore is {np.max(self.bore):g} mm; it must be less than its diameter of "
                f"{np.min(self.diameter):g} mm"
            )

    @property
    def rate(self) -> Any:
        """Torque for each radian of twist [N*mm/rad]."""
        return torsion_bar.torsional_rate(self.diameter, self.length, self.G, self.bore)

    def mass(self, density: Any) -> Any:
        """Mass of the length that twists [kg], from the density [kg/mm^3]."""
        area = np.pi / 4.0 * (np.square(self.diameter) - np.square(self.bore))
        return area * self.length * density


class RearEnd(NamedTuple):
    """A linkage with its bar.

    Attributes:
        linkage: where everything is.
        bar: the spring.
        preload: twist of the bar as drawn, with the link as long as drawn [rad]; positive the way bump
            winds it up.
    """

    linkage: Linkage
    bar: Bar
    preload: Any = 0.0


class Response(NamedTuple):
    """A rear end at some positions of the wheel. Vectors have shape (..., 3), all else the shape of travel.

    Attributes:
        motion: positions, motion ratio, joint angles.
        twist: of the bar from its free position, positive the way bump winds it up [rad].
        torque: of the bar on the arm's hub, against bump [N*mm].
        link_force: pull in the link [N]; negative where it is pushed.
        wheel_force: of the bar on the wheel, downwards [N]; at rest the sprung weight that it holds up.
        wheel_rate: change of the wheel force along the travel, with the term of the geometry [N/mm].
        rate_of_geometry: the share of the wheel rate that comes from the changing motion ratio [N/mm].
        shear: stress at the surface of the bar [MPa].
        energy: stored in the bar [N*mm].
    """

    motion: Motion
    twist: Any
    torque: Any
    link_force: Any
    wheel_force: Any
    wheel_rate: Any
    rate_of_geometry: Any
    shear: Any
    energy: Any


@method(formula="F = i T", source="virtual work: F dz = T dθ; rigid parts, no friction")
def wheel_force(T: Number, i: Number) -> Number:
    """Force at the wheel that a torque of the bar holds up.

    Args:
        T [N*mm]: torque of the bar.
        i [rad/mm]: motion ratio, turn of the bar for each millimetre of the wheel.

    Returns:
        [N] vertical force at the axle.
    """
    return np.multiply(T, i)[()]


@method(
    formula="c = k i² + T di/dz",
    source="derivative of F = i T along the travel; rigid parts, no friction, link of fixed length",
)
def wheel_rate(k: Number, i: Number, T: Number, di_dz: Number) -> Number:
    """Rate at the wheel, with the term of the geometry.

    Args:
        k [N*mm/rad]: torsional rate of the bar.
        i [rad/mm]: motion ratio.
        T [N*mm]: torque of the bar at this position.
        di_dz [rad/mm^2]: slope of the motion ratio along the travel.

    Returns:
        [N/mm] change of the wheel force along the travel.
    """
    return (k * np.square(i) + np.multiply(T, di_dz))[()]


@method(
    formula="N = T / h",
    source="moments about the bar",
    valid="lever more than nothing",
    holds=lambda T, h: np.asarray(h) > 0.0,
)
def link_force(T: Number, h: Number) -> Number:
    """Force along the link that holds a torque of the bar.

    Args:
        T [N*mm]: torque of the bar.
        h [mm]: lever of the link about the bar.

    Returns:
        [N] force along the link.
    """
    return np.divide(T, h)[()]


def response(rear: RearEnd, travel: Any, link_length: Any = None) -> Response:
    """Forces, rates and stress at positions of the wheel.

    Args:
        rear: linkage and bar.
        travel: of the wheel from full droop [mm], number or array.
        link_length: between ball centres [mm]; as drawn where left out. A length that winds the bar up
            at a given travel raises the machine.

    Returns:
        everything through the travel.

    Raises:
        LinkageError: as for `parts.vehicle.rear_end.motion.motion`.
    """
    return responded(rear, motion(rear.linkage, travel, link_length))


def arm_angle_for_preload(rear: RearEnd, preload: Any) -> Any:
    """How far to clock the arm, link and wheel left as drawn, to come from one preload to another.

    Args:
        rear: linkage and bar, with the preload that it has now.
        preload: twist wanted as drawn [rad], positive the way bump winds the bar up.

    Returns:
        [rad] angle for `parts.vehicle.rear_end.clocking.nearest_settings`, right-handed about the bar's direction: the
        free arm has to go against bump for more preload.
    """
    wind = motion(rear.linkage, rear.linkage.drawn_at).wind
    return -wind * (np.asarray(preload, float) - rear.preload)


def responded(rear: RearEnd, moved: Motion) -> Response:
    """What the bar makes of positions that are known.

    Args:
        rear: linkage and bar.
        moved: positions of that linkage.

    Returns:
        everything at those positions.
    """
    k, bar = rear.bar.rate, rear.bar
    twist, torque = _wound(rear, moved)
    return Response(
        motion=moved,
        twist=twist,
        torque=torque,
        link_force=-np.sign(moved.turn_per_length) * link_force(torque, moved.lever),
        wheel_force=wheel_force(torque, moved.ratio),
        wheel_rate=wheel_rate(k, moved.ratio, torque, moved.ratio_slope),
        rate_of_geometry=torque * moved.ratio_slope,
        shear=torsion_bar.shear_stress(torque, bar.diameter, bar.bore),
        energy=torsion_bar.stored_energy(k, twist),
    )


def held_up(rear: RearEnd, moved: Motion) -> Any:
    """Force of the bar on the wheel, downwards [N], at positions of that linkage; all else is left out."""
    return wheel_force(_wound(rear, moved)[1], moved.ratio)


def _wound(rear: RearEnd, moved: Motion) -> tuple[Any, Any]:
    """Twist [rad] and torque [N*mm] of the bar."""
    bar = rear.bar
    twist = rear.preload + moved.bar_turn
    return twist, torsion_bar.torque_at_twist(twist, bar.diameter, bar.length, bar.G, bar.bore)


def free_bodies(rear: RearEnd, found: Response) -> tuple[Balance, ...]:
    """Swing arm, link, arm and bar with all that acts on them, each held against balance.

    The wheel force is the one of virtual work; the moments about the swing arm's axis and about the bar
    must come out at nothing by themselves, for the bearings there carry none.

    Args:
        rear: linkage and bar.
        found: its response.

    Returns:
        [-] one balance for each part; `.error` is empty where it holds.
    """
    linkage, now = rear.linkage, found.motion
    pull = (
        np.asarray(found.link_force)[..., None] * now.link
    )  # of the link on the arm, towards the pick-up
    wheel = np.asarray(found.wheel_force)[..., None] * np.asarray(UP)
    bar = linkage.torsion_bar
    torque = -np.asarray(now.wind * found.torque)[..., None] * bar.unit
    hub = bar.foot(now.arm_end)
    return (
        balance(
            "swing arm",
            (
                Acting(now.axle, wheel, by="wheel"),
                Acting(now.pick_up, -pull, by="link"),
                _bearing(
                    linkage.swing_arm, (now.axle, wheel), (now.pick_up, -pull), by="pivot bearings"
                ),
            ),
        ),
        balance(
            "link",
            (Acting(now.pick_up, pull, by="swing arm"), Acting(now.arm_end, -pull, by="arm")),
        ),
        balance(
            "arm",
            (
                Acting(now.arm_end, pull, by="link"),
                Acting(hub, np.zeros(3), torque, by="bar"),
                _bearing(bar, (now.arm_end, pull), by="hub bearings", at=hub),
            ),
        ),
        balance(
            "bar",
            (
                Acting(hub, np.zeros(3), -torque, by="arm"),
                Acting(hub, np.zeros(3), torque, by="anchor"),
            ),
        ),
    )


def _bearing(line: Line, *loads: tuple[Any, Any], by: str, at: Any = None) -> Acting:
    """What bearings along a line answer to forces: all but a moment about that line."""
    at = np.asarray(line.point, float) if at is None else at
    force = sum(force for _, force in loads)
    moment = sum(cross(np.asarray(place) - at, force) for place, force in loads)
    about = dot(moment, line.unit)[..., None] * line.unit
    return Acting(at, -force, about - moment, by=by)


def shear_check(
    rear: RearEnd, found: Response, S_ut: Any, share: Any, required: Any = 1.0, case: str = "travel"
) -> Check:
    """The worst shear of the bar against its allowable in static service.

    Args:
        rear: linkage and bar.
        found: its response through the travel, along the first axis.
        S_ut: tensile strength of the bar [MPa].
        share: allowable shear over tensile strength [-]; see `parts.strength.shafts.torsion_bar.shear_share`.
        required: factor asked for [-].
        case: name of the load case.

    Returns:
        [-] the check.
    """
    torque = np.max(np.abs(np.atleast_1d(found.torque)), axis=0)[()]
    stress = work(torsion_bar.shear_stress, T=torque, d=rear.bar.diameter, d_i=rear.bar.bore)
    return check(
        "torsion bar, shear at the surface",
        "shear",
        load_case=case,
        demand=stress,
        capacity=work(torsion_bar.allowable_shear, S_ut=S_ut, c=share),
        unit="MPa",
        required=required,
        note="static service, plain length of the bar; spline ends and repeated load are checked apart",
    )


@method(formula="Δ = θ_most - θ_least", source="the bar's twist through the travel")
def let_off(most: Number, least: Number) -> Number:
    """How far a bar is let off from where it is wound up most.

    Args:
        most [deg]: greatest twist over the travel.
        least [deg]: least twist over the travel.

    Returns:
        [deg] what it is let off.
    """
    return np.subtract(most, least)[()]


def unwound_check(found: Response, case: str = "travel") -> Check:
    """How far a preset bar is let off over the travel, against how far it is wound: beyond, it is twisted back.

    Args:
        found: its response through the travel, along the first axis.
        case: name of the load case.

    Returns:
        [-] the check.
    """
    twist = np.degrees(np.atleast_1d(found.twist))
    most, least = np.max(twist, axis=0)[()], np.min(twist, axis=0)[()]
    return check(
        "torsion bar, let off over the travel",
        "reversed twist",
        load_case=case,
        demand=work(let_off, most=most, least=least),
        capacity=most,
        unit="deg",
        required=1.0,
        note="a preset bar must never be twisted the other way; what it is let off against its twist at most",
    )


def swing_check(at: str, tilt: Any, limit: Any, by: str = "", case: str = "travel") -> Check:
    """The worst tilt of a ball joint against what its rod end allows in its clevis.

    Args:
        at: where the joint is.
        tilt: of the joint through the travel, along the first axis [rad].
        limit: swing to one side that rod end and clevis allow [rad].
        by: what sets that limit.
        case: name of the load case.

    Returns:
        [-] the check.
    """
    worst = np.max(np.atleast_1d(tilt), axis=0)
    return check(
        f"joint at {at}, swing",
        "swing",
        load_case=case,
        demand=np.degrees(np.where(worst > STILL, worst, 0.0))[()],
        capacity=np.degrees(limit),
        unit="deg",
        required=1.0,
        note="to one side, eyes square on their bolts as drawn, jam nuts locked there"
        + (f"; the limit is that of {by}" if by else ""),
    )
