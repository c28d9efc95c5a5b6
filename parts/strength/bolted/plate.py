"""The plate under a bolt and the bolt under two loads: bearing, tear-out, prying, tension with shear.

Strengths are nominal: no resistance factor is hidden in them, save `phi` where the source needs one
inside its formula, and that is an argument.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.strength.method import Number, method

J3_10 = "AISC 360-16, J3.10 (bearing and tear-out at bolt holes)"
PRYING = (
    "AISC Steel Construction Manual, Part 9 (prying action); "
    "W. A. Thornton, Prying Action: A General Treatment, Engineering Journal AISC, 2nd quarter 1985"
)
NASA = "NASA-STD-5020A (interaction of tension and shear); from memory"


@method(
    formula="R = c_b d t F_u, c_b = 2.4, or 3.0 where the hole may stretch",
    source=J3_10 + ", eqs. J3-6a, J3-6b (bearing)",
)
def bearing_capacity(d: Number, t: Number, F_u: Number, stretch: Number = False) -> Number:
    """Force at which a bolt crushes the edge of its hole, standard round hole.

    Args:
        d [mm]: bolt diameter.
        t [mm]: plate thickness.
        F_u [MPa]: tensile strength of the plate.
        stretch [-]: true where a hole some 6 mm longer does no harm; rarely so in a vehicle.

    Returns:
        [N] nominal bearing strength at one bolt.

    Example: M8 in 5 mm of 4130 at 620 MPa.
        >>> round(float(bearing_capacity(8.0, 5.0, 620.0)))
        59520
    """
    return np.where(stretch, 3.0, 2.4) * d * t * F_u


@method(
    formula="R = c_t l_c t F_u, c_t = 1.2, or 1.5 where the hole may stretch",
    source=J3_10 + ", eqs. J3-6c, J3-6d (tear-out)",
    valid="metal left between hole and edge",
    holds=lambda l_c, t, F_u, stretch=False: np.asarray(l_c) > 0.0,
)
def tearout_capacity(l_c: Number, t: Number, F_u: Number, stretch: Number = False) -> Number:
    """Force at which a bolt tears out of the plate, standard round hole.

    Args:
        l_c [mm]: metal from the hole to the edge or the next hole, in the force's direction.
        t [mm]: plate thickness.
        F_u [MPa]: tensile strength of the plate.
        stretch [-]: true where a hole some 6 mm longer does no harm.

    Returns:
        [N] nominal tear-out strength at one bolt; nil without metal.

    Example: 8 mm of metal, 5 mm of 4130 at 620 MPa.
        >>> round(float(tearout_capacity(8.0, 5.0, 620.0)))
        29760
    """
    return np.where(stretch, 1.5, 1.2) * np.maximum(l_c, 0.0) * t * F_u


@method(
    formula="R = min(c_b d, c_t l_c) t F_u",
    source=J3_10,
    valid="metal left between hole and edge",
    holds=lambda d, l_c, t, F_u, stretch=False: np.asarray(l_c) > 0.0,
)
def hole_capacity(
    d: Number, l_c: Number, t: Number, F_u: Number, stretch: Number = False
) -> Number:
    """What the plate carries at one bolt: bearing or tear-out, the smaller.

    Args:
        d [mm]: bolt diameter.
        l_c [mm]: metal from the hole to the edge or the next hole, in the force's direction.
        t [mm]: plate thickness.
        F_u [MPa]: tensile strength of the plate.
        stretch [-]: true where a hole some 6 mm longer does no harm.

    Returns:
        [N] nominal strength at one bolt.

    Example: M8, 8 mm of metal, 5 mm of 4130 at 620 MPa: tear-out.
        >>> round(float(hole_capacity(8.0, 8.0, 5.0, 620.0)))
        29760
    """
    return np.minimum(bearing_capacity(d, t, F_u, stretch), tearout_capacity(l_c, t, F_u, stretch))


@method(
    formula="u = √((T/T_u)² + (V/V_u)²)",
    source="AISC 360-16, Commentary J3.7 (elliptical interaction); common in bolt design",
)
def elliptical_use(T: Number, V: Number, T_u: Number, V_u: Number) -> Number:
    """Share of a bolt's strength that tension and shear together use; 1 is the limit.

    A square root, so that it grows in step with the load: its inverse is the factor of safety.

    Args:
        T [N]: tension.
        V [N]: shear.
        T_u [N]: strength in tension alone.
        V_u [N]: strength in shear alone.

    Returns:
        [-] use.

    Example:
        >>> float(elliptical_use(3.0e3, 4.0e3, 1.0e4, 1.0e4))
        0.5
    """
    return np.hypot(np.maximum(T, 0.0) / T_u, V / V_u)


def _use(a: Any, b: Any, m: float, n: float) -> Any:
    """The u at which (a/u)^m + (b/u)^n = 1, by bisection between the larger share and their sum."""
    a, b = np.broadcast_arrays(np.abs(np.asarray(a, float)), np.abs(np.asarray(b, float)))
    larger = np.maximum(a, b)
    scale = np.where(larger > 0.0, larger, 1.0)
    a, b = a / scale, b / scale
    low, high = np.ones_like(a), np.full_like(a, 2.0)
    for _ in range(60):
        middle = (low + high) / 2.0
        over = (a / middle) ** m + (b / middle) ** n > 1.0
        low, high = np.where(over, middle, low), np.where(over, high, middle)
    return larger * high


@method(
    formula="u: (V/(u V_u))^2.5 + (T/(u T_u))^1.5 = 1, or with thread in the shear plane "
    "(V/(u V_u))^1.2 + (T/(u T_u))² = 1",
    source=NASA,
)
def spaceflight_use(
    T: Number, V: Number, T_u: Number, V_u: Number, thread: Number = True
) -> Number:
    """Share of a bolt's strength that tension and shear together use, by the test-fitted curves.

    Args:
        T [N]: tension.
        V [N]: shear.
        T_u [N]: strength in tension alone.
        V_u [N]: strength in shear alone.
        thread [-]: true where the shear plane cuts the thread.

    Returns:
        [-] use: the inverse of the factor by which both loads may grow.

    Example: half of each, thread in the shear plane.
        >>> round(float(spaceflight_use(5.0e3, 5.0e3, 1.0e4, 1.0e4)), 3)
        0.779
    """
    t, v = np.maximum(T, 0.0) / T_u, V / V_u
    cut = _use(v, t, 1.2, 2.0)
    plain = _use(v, t, 2.5, 1.5)
    return np.asarray(np.where(thread, cut, plain))[()]


@method(
    formula="F'_nt = min(1.3 F_nt − F_nt f_v/(φ F_nv), F_nt)",
    source="AISC 360-16, J3.7, eq. J3-3a",
    valid="shear stress within its own strength φ F_nv",
    holds=lambda F_nt, F_nv, f_v, phi=0.75: np.asarray(f_v) <= phi * np.asarray(F_nv),
)
def tension_beside_shear(F_nt: Number, F_nv: Number, f_v: Number, phi: Number = 0.75) -> Number:
    """Nominal tensile stress that a bearing-type bolt has left beside its shear.

    Args:
        F_nt [MPa]: nominal tensile stress without shear.
        F_nv [MPa]: nominal shear stress without tension.
        f_v [MPa]: required shear stress.
        phi [-]: resistance factor of bolts.

    Returns:
        [MPa] nominal tensile stress; nil where shear alone is too much.

    Example: half of the shear strength used.
        >>> round(float(tension_beside_shear(620.0, 372.0, 139.5)), 1)
        496.0
    """
    left = np.minimum(1.3 * F_nt - F_nt * f_v / (phi * F_nv), F_nt)
    return np.where(np.asarray(f_v) <= phi * np.asarray(F_nv), np.maximum(left, 0.0), 0.0)[()]


def _prying_geometry(b: Any, a: Any, d: Any, d_h: Any, p: Any) -> tuple[Any, Any, Any]:
    """b', ρ and δ of the prying model."""
    b_in = np.asarray(b, float) - np.asarray(d, float) / 2.0
    a_out = np.minimum(a, 1.25 * np.asarray(b, float)) + np.asarray(d, float) / 2.0
    return b_in, b_in / a_out, 1.0 - np.asarray(d_h, float) / p


@method(
    formula="t_0 = √(4 T b'/(φ p F_u)), b' = b − d/2",
    source=PRYING,
    valid="bolt clear of the stem: b over d/2",
    holds=lambda T, b, d, p, F_u, phi=0.9: np.asarray(b) > np.asarray(d) / 2.0,
)
def thickness_without_prying(
    T: Number, b: Number, d: Number, p: Number, F_u: Number, phi: Number = 0.9
) -> Number:
    """Thickness of a flange at which bolts feel no more than their share of the pull.

    Args:
        T [N]: pull on each bolt.
        b [mm]: from the bolt's axis to the face of the stem.
        d [mm]: bolt diameter.
        p [mm]: length of flange for each bolt, no more than 2 b unless the pitch proves it.
        F_u [MPa]: tensile strength of the flange; put yield here to keep it elastic at the stem.
        phi [-]: resistance factor in bending.

    Returns:
        [mm] thickness.

    Example: 5 kN a bolt M8, 20 off the web, 40 of flange, 400 MPa.
        >>> round(float(thickness_without_prying(5.0e3, 20.0, 8.0, 40.0, 400.0)), 2)
        4.71
    """
    b_in = np.asarray(b, float) - np.asarray(d, float) / 2.0
    return np.asarray(np.sqrt(4.0 * np.asarray(T) * b_in / (phi * p * F_u)))[()]


@method(
    formula="q = δ α ρ M_p/b', α = (T b'/M_p − 1)/δ, 0 ≤ α ≤ 1, M_p = φ p t² F_u/4",
    source=PRYING,
    valid="flange that carries the pull: α at most 1; bolt clear of the stem",
    holds=lambda T, t, b, a, d, d_h, p, F_u, phi=0.9: np.isfinite(
        np.asarray(_prying(T, t, b, a, d, d_h, p, F_u, phi))
    ),
)
def prying_force(
    T: Number,
    t: Number,
    b: Number,
    a: Number,
    d: Number,
    d_h: Number,
    p: Number,
    F_u: Number,
    phi: Number = 0.9,
) -> Number:
    """Prying force that a bent flange adds to each bolt's pull.

    The flange yields at the stem under M_p; what that cannot balance bends it back over the bolt by
    δ α M_p, and its edge presses with q.

    Args:
        T [N]: pull on each bolt.
        t [mm]: flange thickness.
        b [mm]: from the bolt's axis to the face of the stem.
        a [mm]: from the bolt's axis to the edge; counted up to 1.25 b.
        d [mm]: bolt diameter.
        d_h [mm]: hole diameter.
        p [mm]: length of flange for each bolt.
        F_u [MPa]: tensile strength of the flange.
        phi [-]: resistance factor in bending.

    Returns:
        [N] force that adds to T at each bolt; not a number where the flange fails first.

    Example: 5 kN a bolt M8, flange 4 mm.
        >>> round(float(prying_force(5.0e3, 4.0, 20.0, 20.0, 8.0, 9.0, 40.0, 400.0)))
        933
    """
    return np.asarray(_prying(T, t, b, a, d, d_h, p, F_u, phi))[()]


def _prying(T: Any, t: Any, b: Any, a: Any, d: Any, d_h: Any, p: Any, F_u: Any, phi: Any) -> Any:
    """The body of `prying_force`, so that its range can be told as well."""
    b_in, rho, delta = _prying_geometry(b, a, d, d_h, p)
    M_p = phi * p * np.square(t) * F_u / 4.0
    alpha = np.maximum((np.asarray(T) * b_in / M_p - 1.0) / delta, 0.0)
    return np.where((alpha <= 1.0) & (b_in > 0.0), delta * alpha * rho * M_p / b_in, np.nan)[()]


@method(
    formula="T = M_p (1 + δ)/b', M_p = φ p t² F_u/4",
    source=PRYING + "; α = 1 in `prying_force`",
    valid="bolt clear of the stem: b over d/2",
    holds=lambda t, b, a, d, d_h, p, F_u, phi=0.9: np.asarray(b) > np.asarray(d) / 2.0,
)
def prying_most(
    t: Number, b: Number, a: Number, d: Number, d_h: Number, p: Number, F_u: Number, phi: Number = 0.9
) -> Number:  # fmt: skip
    """Pull on each bolt at which a flange has yielded at stem and bolt, and pries most.

    Args:
        t [mm]: flange thickness.
        b [mm]: from the bolt's axis to the face of the stem.
        a [mm]: from the bolt's axis to the edge.
        d [mm]: bolt diameter.
        d_h [mm]: hole diameter.
        p [mm]: length of flange for each bolt.
        F_u [MPa]: tensile strength of the flange.
        phi [-]: resistance factor in bending.

    Returns:
        [N] pull; nan where the bolt stands in the stem.

    Example: the flange of 4 mm of `prying_force`: 3.6 N/mm² x 1600 mm³ x 1.775 over 16 mm.
        >>> round(float(prying_most(4.0, 20.0, 20.0, 8.0, 9.0, 40.0, 400.0)))
        6390
    """
    b_in, _, delta = _prying_geometry(b, a, d, d_h, p)
    M_p = phi * p * np.square(t) * F_u / 4.0
    return np.where(b_in > 0.0, M_p * (1.0 + delta) / np.where(b_in > 0.0, b_in, 1.0), np.nan)[()]


@method(
    formula="T = B Q; α' = ((t_c/t)² − 1)/(δ (1 + ρ)), t_c² = 4 B b'/(φ p F_u); "
    "Q = 1 for α' < 0, (t/t_c)² (1 + δ α') up to 1, (t/t_c)² (1 + δ) above",
    source=PRYING,
    valid="bolt clear of the stem: b over d/2",
    holds=lambda B, t, b, a, d, d_h, p, F_u, phi=0.9: np.asarray(b) > np.asarray(d) / 2.0,
)
def tee_capacity(
    B: Number,
    t: Number,
    b: Number,
    a: Number,
    d: Number,
    d_h: Number,
    p: Number,
    F_u: Number,
    phi: Number = 0.9,
) -> Number:
    """Pull for each bolt that a bolted flange carries, prying counted.

    The bolt governs behind a stiff flange, both together in between, a thin flange by itself.

    Args:
        B [N]: tension that one bolt may bear.
        t [mm]: flange thickness.
        b [mm]: from the bolt's axis to the face of the stem.
        a [mm]: from the bolt's axis to the edge; counted up to 1.25 b.
        d [mm]: bolt diameter.
        d_h [mm]: hole diameter.
        p [mm]: length of flange for each bolt.
        F_u [MPa]: tensile strength of the flange.
        phi [-]: resistance factor in bending.

    Returns:
        [N] pull for each bolt.

    Example: bolt good for 15 kN, flange 5 mm.
        >>> round(float(tee_capacity(15.0e3, 5.0, 20.0, 20.0, 8.0, 9.0, 40.0, 400.0)))
        9984
    """
    b_in, rho, delta = _prying_geometry(b, a, d, d_h, p)
    ratio = phi * p * F_u * np.square(t) / (4.0 * np.asarray(B) * b_in)
    alpha = np.clip((1.0 / ratio - 1.0) / (delta * (1.0 + rho)), 0.0, 1.0)
    return B * np.asarray(np.minimum(ratio * (1.0 + delta * alpha), 1.0))
