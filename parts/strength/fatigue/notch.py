"""Stress concentration factors K_t: peak elastic stress over the stated nominal stress.

Fits are Roark's Table 17.1 (after Peterson's charts), coefficients in `notch_fits.csv`. Each function says
which nominal stress its factor goes with. A blunter notch than a fit covers is given the fit's
bluntest value, which is too high; a sharper one is nan. How much of K_t fatigue feels is in
`notch_sensitivity`.

Worked example: round shaft, D = 38, d = 32, r = 3 mm in bending: h = 3 mm, h/r = 1, 2h/D = 0.158;
K_t = 1.990 - 2.429·0.158 + 2.057·0.0249 - 0.619·0.0039 = 1.66.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.tables import row, rows, straight_between
from parts.strength.validity import Truth, between, within

Array = NDArray[np.float64]

ROARK = "Roark's Formulas for Stress and Strain, 7th ed., Table 17.1"
BLUNT = "blunter gets the bluntest value (high), sharper nan"


@cache
def _segments(case: str, load: str) -> tuple[tuple[float, float, Array], ...]:
    found = [r for r in rows("notch_fits") if r["case"] == case and r["load"] == load]
    if not found:
        known = [r["load"] for r in rows("notch_fits") if r["case"] == case]
        raise KeyError(f"no factor for {load!r} here; use {', '.join(dict.fromkeys(known))}")
    names = [[f"c{i}{j}" for j in range(3)] for i in range(1, 5)]
    return tuple(
        (
            float(r["h_r_min"]),
            float(r["h_r_max"]),
            np.array([[float(r[c]) for c in n] for n in names]),
        )
        for r in found
    )


def _step(D: Number, d: Number, r: Number) -> tuple[Array, Array]:
    h = (np.asarray(D, float) - d) / 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        return h / r, 2.0 * h / np.asarray(D, float)


def _fit(case: str, load: str, D: Number, d: Number, r: Number) -> Number:
    """Sum of C_i (2h/D)^(i-1), each C_i = a + b √(h/r) + c h/r, over the segment h/r lies in."""
    ratio, x = _step(D, d, r)
    value: Array = np.full(np.broadcast(ratio, x).shape, np.nan)
    for number, (low, high, c) in enumerate(_segments(case, load)):
        q = np.maximum(ratio, low)
        terms = c[:, 0] + c[:, 1] * np.sqrt(q)[..., None] + c[:, 2] * q[..., None]
        here = np.sum(terms * x[..., None] ** np.arange(4), axis=-1)
        inside = between(ratio, low, high) if number else ratio <= high * (1 + 1e-9)
        value = np.where(inside & np.isnan(value), np.maximum(here, 1.0), value)
    return within((x >= 0.0) & (x < 1.0), value)


def _covers(case: str) -> Any:
    def holds(D: Number, d: Number, r: Number, load: str = "tension") -> Truth:
        ratio, x = _step(D, d, r)
        segments = _segments(case, load)
        return np.asarray(between(ratio, segments[0][0], segments[-1][1]) & (x < 1.0))

    return holds


@method(
    formula="K_t = Σ C_i (2h/D)^(i-1), C_i = a + b √(h/r) + c h/r, h = (D - d)/2",
    source=ROARK + ", square shoulder with fillet in a circular shaft",
    valid="h/r from 0.25 to 20 (torsion to 4); " + BLUNT,
    holds=_covers("round_fillet"),
)
def round_fillet(D: Number, d: Number, r: Number, load: str) -> Number:
    """Shoulder with a fillet on a round shaft; nominal stress in the smaller section.

    Args:
        D [mm]: larger diameter.
        d [mm]: smaller diameter.
        r [mm]: radius of the fillet.
        load [-]: tension, bending or torsion.

    Returns:
        [-] K_t, for torsion the ratio of shear stresses.

    Raises:
        KeyError: no factor for this load.
    """
    return _fit("round_fillet", load, D, d, r)


@method(
    formula="K_t = Σ C_i (2h/D)^(i-1), C_i = a + b √(h/r) + c h/r, h = (D - d)/2",
    source=ROARK + ", square shoulder with fillet in a member of rectangular section",
    valid="h/r from 0.1 to 20, wide part long; " + BLUNT,
    holds=_covers("flat_fillet"),
)
def flat_fillet(D: Number, d: Number, r: Number, load: str) -> Number:
    """Fillets on both edges where a flat bar narrows; nominal stress in the narrower section.

    A short wide part has a lower factor than this.

    Args:
        D [mm]: larger width.
        d [mm]: smaller width.
        r [mm]: radius of the fillets.
        load [-]: tension, or bending in the plane of the flat.

    Returns:
        [-] K_t.

    Raises:
        KeyError: no factor for this load.
    """
    return _fit("flat_fillet", load, D, d, r)


@method(
    formula="K_t = Σ C_i (2h/D)^(i-1), C_i = a + b √(h/r) + c h/r, h = (D - d)/2",
    source=ROARK + ", U-notch in a circular shaft",
    valid="h/r from 0.25 to 50; " + BLUNT,
    holds=_covers("round_groove"),
)
def round_groove(D: Number, d: Number, r: Number, load: str) -> Number:
    """U groove round a shaft; nominal stress at the bottom of the groove.

    Args:
        D [mm]: diameter of the shaft.
        d [mm]: diameter at the bottom of the groove.
        r [mm]: radius of the groove.
        load [-]: tension, bending or torsion.

    Returns:
        [-] K_t, for torsion the ratio of shear stresses.

    Raises:
        KeyError: no factor for this load.
    """
    return _fit("round_groove", load, D, d, r)


@method(
    formula="K_t = Σ C_i (2h/D)^(i-1), C_i = a + b √(h/r) + c h/r, h = (D - d)/2",
    source=ROARK + ", two U-notches in a member of rectangular section",
    valid="h/r from 0.1 to 50; " + BLUNT,
    holds=_covers("flat_notch"),
)
def flat_notch(D: Number, d: Number, r: Number, load: str = "tension") -> Number:
    """Two U notches opposite each other in the edges of a flat bar; nominal stress between them.

    Args:
        D [mm]: width of the bar.
        d [mm]: width between the notches.
        r [mm]: radius of the notches.
        load [-]: tension.

    Returns:
        [-] K_t.

    Raises:
        KeyError: no factor for this load.
    """
    return _fit("flat_notch", load, D, d, r)


@method(
    formula="K_t = max(|3 - β|, |3β - 1|), β = σ_2 / σ_1",
    source="Kirsch; Peterson's Stress Concentration Factors, hole in an infinite plate, biaxial",
    valid="plate at least about ten holes wide; σ_1 the larger in size",
    holds=lambda beta: between(beta, -1.0, 1.0),
)
def hole_in_plate(beta: Number) -> Number:
    """Round hole in a wide plate under two principal stresses; nominal stress the larger of them.

    Args:
        beta [-]: the smaller principal stress over the larger: 0 one way, 1 all round, -1 shear.

    Returns:
        [-] K_t on the larger principal stress.
    """
    value = np.maximum(np.abs(3.0 - np.asarray(beta)), np.abs(3.0 * np.asarray(beta) - 1.0))
    return within(between(beta, -1.0, 1.0), value)


def _hole_ranges(a: Number, D: Number, load: str, d_i: Number = 0.0) -> Truth:
    found = row("notch_round_hole", "load", load)
    hole, bore = np.divide(a, D), np.divide(d_i, D)
    return np.asarray(
        between(hole, 0.0, float(found["hole_max"])) & between(bore, 0.0, float(found["bore_max"]))
    )


@method(
    formula="K_t = Σ C_i (a/D)^(i-1), each C_i a polynomial in d_i/D",
    source=ROARK + ", radial hole in a hollow or solid circular shaft",
    valid="a/D up to 0.45 (bending, torsion 0.4), d_i/D up to 0.9 (torsion 0.8); nan beyond",
    holds=_hole_ranges,
)
def round_bar_hole(a: Number, D: Number, load: str, d_i: Number = 0.0) -> Number:
    """Hole across a round bar or tube; nominal stress in the gross section, without the hole.

    Args:
        a [mm]: diameter of the hole.
        D [mm]: outside diameter of the bar.
        load [-]: tension, bending (hole at the extreme fibre) or torsion.
        d_i [mm]: bore of a tube; 0 for a solid bar.

    Returns:
        [-] K_t; for torsion the peak direct stress over the nominal shear stress, 4 for a small
        hole.

    Raises:
        KeyError: no factor for this load.
    """
    found = row("notch_round_hole", "load", load)
    c = np.array([[float(found[f"c{i}{j}"]) for j in range(4)] for i in range(1, 5)])
    x, y = np.asarray(np.divide(a, D))[..., None], np.asarray(np.divide(d_i, D))[..., None]
    terms = (c * (y ** np.arange(4))[..., None, :]).sum(axis=-1)
    return within(_hole_ranges(a, D, load, d_i), (terms * x ** np.arange(4)).sum(axis=-1))


def _lug(d: Number, W: Number, c: Number, clearance: Number = 1.0) -> Truth:
    inside = between(np.divide(d, W), 0.15, 0.75) & (
        np.asarray(c) >= 0.5 * np.asarray(W) * (1 - 1e-9)
    )
    return np.asarray(inside)


@method(
    formula="K_t = g(c/W, d/W) max(K_n, K_b (W - d)/d) clearance; "
    "K_n = 12.882 - 52.714 x + 89.762 x² - 51.667 x³, "
    "K_b = 0.288 + 8.820 x - 23.196 x² + 29.167 x³, x = d/W",
    source="neat pin, long end: Peterson's Stress Concentration Factors, Chart 4.67 (Frocht and Hill), "
    "from memory; g for a short round end: own finite elements (`lug_end_factor`)",
    valid="d/W from 0.15 to 0.75, c at least W/2, lug no thicker than half the pin; nan beyond",
    holds=_lug,
)
def pin_lug(d: Number, W: Number, c: Number, clearance: Number = 1.0) -> Number:
    """Lug pulled by a pin; nominal stress in the net section P/((W - d) t).

    Args:
        d [mm]: diameter of the bore.
        W [mm]: width of the lug at the bore.
        c [mm]: from the centre of the bore to the end of the lug, W/2 for a plain round eye.
        clearance [-]: 1 for a neat pin; 1.5 for one with play (Shigley, 9th ed., Fig. A-15-12:
            35 to 50 % more).

    Returns:
        [-] K_t on the net section.
    """
    x = np.divide(d, W)
    with np.errstate(divide="ignore"):
        net = 12.882 - 52.714 * x + 89.762 * x**2 - 51.667 * x**3
        bearing = (0.288 + 8.820 * x - 23.196 * x**2 + 29.167 * x**3) * (1.0 - x) / x
    value = np.maximum(net, bearing) * lug_end_factor(x, np.divide(c, W)) * clearance
    return within(_lug(d, W, c), value)


@method(
    formula="σ = K_t p d/(W - d), K_t = pin_lug(d, W, W/2, clearance)",
    source="Peterson's Stress Concentration Factors, Chart 4.67, as `pin_lug`: the plate about the hole counted as "
    "an eye of its own",
    valid="the hole lies within W; wider than d/0.15 is taken as that (high); narrower than d/0.75 takes the factor of "
    "d/0.75 on the net section, which no longer rises from d/W = 0.6 on",
    holds=lambda p, d, W, clearance=1.5: np.less(d, W),
)
def loaded_hole_stress(p: Number, d: Number, W: Number, clearance: Number = 1.5) -> Number:
    """Stress at the rim of a hole in a plate by the load that a bolt, pin or ring in it hands to the plate.

    It comes on top of what passes the hole (`loaded_hole_peak`). For mounts, bolts in shear, pressed pins and bearing
    seats.

    Args:
        p [MPa]: bearing stress in the hole, load over d t.
        d [mm]: diameter of the hole.
        W [mm]: twice the least distance from its middle to an edge.
        clearance [-]: 1.5 for a bolt with play, 1 for what is pressed in.

    Returns:
        [MPa] stress.
    """
    d, W = np.asarray(d, float), np.asarray(W, float)
    x = np.clip(np.divide(d, W), 0.15, 0.75)
    narrow = np.maximum(np.minimum(W, d / 0.15), d) - d
    with np.errstate(divide="ignore", invalid="ignore"):
        net = np.abs(p) * d / narrow
    return within(d < W, pin_lug(x, 1.0, 0.5, clearance) * net)


@method(
    formula="σ_max = K σ + σ_own",
    source="superposition of what passes a hole and what it carries: Jarfall's stress severity factor, in Niu, "
    "Airframe Structural Design, sect. 7.7; from memory",
)
def loaded_hole_peak(K: Number, sigma: Number, own: Number) -> Number:
    """Stress at the rim of a hole that carries load itself, in a plate that is stressed as well.

    Args:
        K [-]: factor on the plate's stress: notch or fatigue factor.
        sigma [MPa]: stress of the plate's section.
        own [MPa]: by the hole's own load, from `loaded_hole_stress`.

    Returns:
        [MPa] stress.
    """
    return np.multiply(K, sigma) + own


@method(
    formula="K_t = 1 + 2 √(a/ρ)",
    source="Inglis; Peterson's Stress Concentration Factors, equivalent elliptic hole; from memory",
    valid="plate at least about ten slots wide; a no less than ρ",
    holds=lambda a, rho: np.greater_equal(a, np.multiply(rho, 1.0 - 1e-9)),
)
def slot_in_plate(a: Number, rho: Number) -> Number:
    """Slot in a wide plate pulled across it; nominal stress that of the plate.

    Args:
        a [mm]: half the slot's length across the pull.
        rho [mm]: radius of its ends.

    Returns:
        [-] K_t, 3 for a round hole.
    """
    return within(
        np.greater_equal(a, np.multiply(rho, 1.0 - 1e-9)), 1.0 + 2.0 * np.sqrt(np.divide(a, rho))
    )


def lug_end_factor(x: Number, e: Number) -> Number:
    """How much a short round end raises the peak stress of a lug; `x` is d/W, `e` is c/W [-]."""
    factor: Number = straight_between("lug_end_factor", "d_over_W", "c_over_W", "factor", x, e)
    return factor


@method(
    formula="bending: K_t = 1.426 + 0.1643 q - 0.0019 q²; torsion (no key): "
    "K_ts = 1.953 + 0.1434 q - 0.0021 q²; q = 0.1 d/r",
    source="Peterson's Stress Concentration Factors, Charts 5.1 and 5.2 (end-milled keyseat), from "
    "memory",
    valid="r/d from 0.005 to 0.04, width d/4, depth d/8; blunter gets the bluntest value, sharper nan",
    holds=lambda d, r, load: between(np.divide(r, d), 0.005, 0.04),
)
def keyseat(d: Number, r: Number, load: str) -> Number:
    """End-milled keyseat in a shaft; nominal stress of the whole round section.

    With a key that carries the torque, torsion rises to about 3 at r/d = 0.02 (`shaft_estimate`).

    Args:
        d [mm]: diameter of the shaft.
        r [mm]: radius at the bottom of the keyseat.
        load [-]: bending or torsion.

    Returns:
        [-] K_t, for torsion the ratio of shear stresses.

    Raises:
        KeyError: no factor for this load.
    """
    fits = {"bending": (1.426, 0.1643, -0.0019), "torsion": (1.953, 0.1434, -0.0021)}
    if load not in fits:
        raise KeyError(f"no factor for {load!r} here; use {', '.join(fits)}")
    a, b, c = fits[load]
    x = np.divide(r, d)
    q = 0.1 / np.clip(x, 0.005, 0.04)
    return within(x >= 0.005 * (1 - 1e-9), a + b * q + c * q**2)


def shaft_estimate(feature: str, load: str) -> float:
    """First estimate of K_t for a feature of a shaft (Shigley's Table 7-1).

    Args:
        feature [-]: as the table `notch_shaft` names it, as "retaining ring groove".
        load [-]: bending, torsion or axial.

    Returns:
        [-] K_t.

    Raises:
        KeyError: no such feature, load or value; the message says what there is.
    """
    found = row("notch_shaft", "feature", feature)
    known = [name for name in ("bending", "torsion", "axial") if found[name]]
    if load not in known:
        raise KeyError(f"no estimate of {load!r} for {feature}; use {', '.join(known)}")
    return float(found[load])
