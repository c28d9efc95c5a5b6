"""Textbook dynamics of a vehicle on two wheels in its plane of symmetry: limits of drive and brakes, drops and blows.

Both wheels stand on the ground unless a method says otherwise; the air neither lifts nor drags. Axes as in ISO 8855.
"""

from __future__ import annotations

import numpy as np

from parts.core.usual_loads import G_0
from parts.strength.method import Number, method
from parts.vehicle.loads.vehicle import STATICS

PLANE = (
    STATICS
    + "; Cossalter, Motorcycle Dynamics, ch. 3, rectilinear motion, states the same, from memory"
)
ENERGY = "conservation of energy"
OVERSTRENGTH = 1.25
"""Greatest over least strength of a metal that is to bend and spare what holds it [-]; see `bending_bound`."""


@method(
    formula="a = -g ((L - x) cos γ / h + sin γ), g = 9.80665 m/s²",
    source="rear wheel load nil; " + PLANE,
    valid="centre of mass above the ground",
    holds=lambda x, h, L, gamma=0.0: np.asarray(h) > 0.0,
)
def rear_lifting_acceleration(x: Number, h: Number, L: Number, gamma: Number = 0.0) -> Number:
    """Acceleration at which the rear wheel lifts; below nothing, for it is braking that lifts it.

    Args:
        x [mm]: centre of mass ahead of the rear wheel's contact.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        gamma [rad]: slope, uphill positive.

    Returns:
        [m/s^2] acceleration forwards.
    """
    return (-G_0 * (np.subtract(L, x) / h * np.cos(gamma) + np.sin(gamma)))[()]


@method(
    formula="S = μ m g cos γ l / (L - μ h); S = μ m g cos γ where μ h reaches L",
    source="friction μ N at the wheel that gains load; " + PLANE,
    valid="grip μ h below the wheelbase; beyond, the other wheel has lifted, and its whole weight bounds the force",
    holds=lambda m, far, h, L, mu, gamma=0.0: np.multiply(mu, h) < L,
)
def force_at_grip_gaining(
    m: Number, far: Number, h: Number, L: Number, mu: Number, gamma: Number = 0.0
) -> Number:
    """Force along the ground at the limit of grip of a wheel that the force itself loads: driven rear, braked front.

    Args:
        m [kg]: mass.
        far [mm]: centre of mass from the other wheel's contact, along the ground.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        mu [-]: grip of the tyre, force along the ground over load.
        gamma [rad]: slope.

    Returns:
        [N] force, never more than the grip of the whole weight.
    """
    whole = np.asarray(mu) * m * G_0 * np.cos(gamma)
    left = np.subtract(L, np.multiply(mu, h))
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(left > 0.0, np.minimum(whole * far / left, whole), whole)[()]


@method(
    formula="S = μ m g l / (L + μ h)",
    source="friction μ N at the wheel that loses load; " + PLANE,
)
def force_at_grip_losing(m: Number, far: Number, h: Number, L: Number, mu: Number) -> Number:
    """Force along level ground at the limit of grip of a wheel that the force itself unloads: a braked rear wheel.

    Args:
        m [kg]: mass.
        far [mm]: centre of mass from the other wheel's contact, along the ground.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        mu [-]: grip of the tyre, force along the ground over load.

    Returns:
        [N] force.
    """
    return (np.asarray(mu) * m * G_0 * far / np.add(L, np.multiply(mu, h)))[()]


@method(
    formula="F = n S r_t / r_s",
    source="moments about the rear axle; the factor: common practice, no source",
)
def chain_tension(S: Number, r_t: Number, r_s: Number, n: Number = 1.0) -> Number:
    """Pull of a run of the chain from the force of the tyre along the ground.

    Args:
        S [N]: force of the tyre along the ground.
        r_t [mm]: radius of the tyre under load.
        r_s [mm]: pitch radius of the rear sprocket.
        n [-]: factor for snatch.

    Returns:
        [N] pull.
    """
    return (np.asarray(n) * S * np.divide(r_t, r_s))[()]


@method(
    formula="R = tan τ / tan σ",
    source="moments about the meeting of chain and swing arm; Cossalter, Motorcycle Dynamics, ch. 6, squat ratio, "
    "from memory",
    valid="line of squat not level",
    holds=lambda tau, sigma: np.abs(np.tan(sigma)) > 0.0,
)
def squat_ratio(tau: Number, sigma: Number) -> Number:
    """Squat ratio: above 1 the rear end sinks under drive, below 1 it rises.

    Args:
        tau [rad]: of the line of load transfer from the level, tan τ = h / L.
        sigma [rad]: of the line from the rear contact to where chain and swing arm meet.

    Returns:
        [-] ratio.
    """
    return (np.tan(tau) / np.tan(sigma))[()]


@method(
    formula="y = (W + √(W² + 2 k E))/k, F = F_0 + k y with W = m g - F_0",
    source="energy of a falling weight on a spring, Timoshenko, Strength of Materials, part I, impact, from memory; "
    + ENERGY,
    valid="the tyre's rate counts as constant, the stop as rigid",
    holds=lambda E, k, m, F_0=0.0: np.asarray(k) > 0.0,
)
def force_at_stop(E: Number, k: Number, m: Number, F_0: Number = 0.0) -> Number:
    """Force at the wheel when a stop is struck with energy left, and the tyre takes it.

    Args:
        E [N*mm]: energy left when the stop is reached; nothing below nought.
        k [N/mm]: vertical rate of the tyre.
        m [kg]: mass that is stopped.
        F_0 [N]: force of the spring there.

    Returns:
        [N] force at the wheel; F_0 where no energy is left and the spring carries the weight.
    """
    down = np.subtract(np.multiply(m, G_0), F_0)
    left = np.maximum(E, 0.0)
    y = np.maximum(down + np.sqrt(np.square(down) + 2.0 * np.asarray(k) * left), 0.0) / k
    return np.where((left > 0.0) | (down > 0.0), F_0 + k * y, F_0)[()]


@method(formula="E = m g (h + s)", source=ENERGY)
def drop_energy(m: Number, h: Number, s: Number = 0.0) -> Number:
    """Energy of a mass that drops and then sinks through the travel.

    Args:
        m [kg]: mass.
        h [mm]: height of the drop.
        s [mm]: travel through which it sinks on.

    Returns:
        [N*mm] energy.
    """
    return (np.multiply(m, G_0) * np.add(h, s))[()]


@method(
    formula="F = v sin β √(k m)",
    source="½ m v² = ½ F²/k, the velocity square to the ramp met by the tyre alone; " + ENERGY,
    valid="ramp up to 45 degrees, its foot met by a wheel that damper and spring do not yet move",
    holds=lambda v, beta, k, m: (np.asarray(beta) >= 0.0) & (np.asarray(beta) <= np.pi / 4.0),
)
def blow_of_ramp(v: Number, beta: Number, k: Number, m: Number) -> Number:
    """Force of a ramp on a tyre, square to the ramp, above what it carried before.

    Args:
        v [m/s]: speed.
        beta [rad]: of the ramp from the level.
        k [N/mm]: rate of the tyre.
        m [kg]: mass of the wheel and what moves with it.

    Returns:
        [N] force.
    """
    return (np.multiply(v, np.sin(beta)) * np.sqrt(np.multiply(k, 1000.0) * m))[()]


@method(
    formula="F = 2 m g (c h (1 - y/r) + w)/d, r = √(y² + z²), c = min(1, (r/h)²/s), s = min(1, h z/r²); "
    "w = min(d, h (cos a - cos(a + arcsin(d/r)))), a = arctan(z/y)",
    source="turned about the line of the wheels; a free body that is struck brings no more than its whole mass at the "
    "speed of the point struck, more as its wheels keep their hold (1/s, own bound: it holds in own motions in time, "
    "wheels and point sliding or not); the force rises evenly over the way that gives, on which the machine turns on "
    "and its weight sinks by w; " + ENERGY,
)
def force_of_fall(m: Number, h: Number, y: Number, z: Number, d: Number) -> Number:
    """Force on a point that a machine falls on, tipped over from standing about the line of its wheels.

    The nearer the centre of mass comes down to the point, or beyond it, the sooner the wheels lift as it strikes, and
    part of the turn goes on to what strikes next.

    Args:
        m [kg]: mass.
        h [mm]: centre of mass above the ground.
        y [mm]: of the point to the side.
        z [mm]: of the point above the ground.
        d [mm]: how far ground and metal give way.

    Returns:
        [N] greatest force.
    """
    r = np.hypot(y, z)
    free = np.square(r / h)
    held = np.minimum(np.multiply(h, z) / np.square(r), 1.0)
    lean = np.arctan2(z, np.abs(y))
    on = np.minimum(lean + np.arcsin(np.minimum(d / r, 1.0)), np.pi)
    sinks = np.minimum(np.multiply(h, np.cos(lean) - np.cos(on)), d)
    energy = np.asarray(h) * (1.0 - np.abs(y) / r) * free / np.maximum(free, held)
    force: Number = (2.0 * np.multiply(m, G_0) * (energy + sinks) / d)[()]
    return force


@method(
    formula="φ = arctan(z / |y|)",
    source="geometry: turned about the line of the wheels until the point reaches the ground",
)
def lean_at_touch(y: Number, z: Number) -> Number:
    """Lean at which a point beside the middle plane touches the ground.

    Args:
        y [mm]: of the point to the side.
        z [mm]: of the point above the ground.

    Returns:
        [deg] lean from upright.
    """
    return np.degrees(np.arctan2(z, np.abs(y)))[()]


@method(
    formula="F = 1.25 R_m (D³ - d³)/6 / L",
    source="full plastic moment of a round section, Beer & Johnston, Mechanics of Materials, ch. 4; 1.25: overstrength "
    "that EN 1998-1:2004, 6.2(3), takes where one part is to yield and spare the others, there on yield, here on the "
    "tensile strength, for it hardens; both from memory",
    valid="the lever square to the force",
    holds=lambda R_m, D, L, d=0.0: np.greater(L, 0.0),
)
def bending_bound(R_m: Number, D: Number, L: Number, d: Number = 0.0) -> Number:
    """Greatest force that a round bar or tube hands on before it bends over, as the end of a handlebar.

    Args:
        R_m [MPa]: least tensile strength.
        D [mm]: outside diameter.
        L [mm]: lever of the force about where it bends.
        d [mm]: bore of a tube.

    Returns:
        [N] force; without a lever no bound.
    """
    plastic = (np.power(D, 3.0) - np.power(d, 3.0)) / 6.0
    with np.errstate(divide="ignore"):
        force: Number = (OVERSTRENGTH * np.asarray(R_m) * plastic / np.asarray(L, float))[()]
    return force


@method(
    formula="F_1 = m r ω², F_2 = F_1 r / l",
    source="slider and crank, first two terms of the series; Khurmi and Gupta, Theory of Machines, ch. 15",
    valid="r / l below 0.5",
    holds=lambda m, r, n, ratio=1.0: np.asarray(ratio) <= 1.0,
)
def crank_inertia(m: Number, r: Number, n: Number, ratio: Number = 1.0) -> Number:
    """Amplitude of the inertia force of a mass on a crank, of first order, or of second with the ratio r / l.

    Args:
        m [kg]: mass.
        r [mm]: radius of the crank, half the stroke.
        n [1/min]: speed of the crank.
        ratio [-]: 1 for the first order; crank over rod length for the second.

    Returns:
        [N] amplitude.
    """
    omega = np.multiply(n, 2.0 * np.pi / 60.0)
    return (np.multiply(m, r) / 1000.0 * np.square(omega) * ratio)[()]
