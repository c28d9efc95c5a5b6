"""A plate in a corner buckles later than `corner_use` says: held against a Ritz solution of plate and stress."""

import numpy as np
import pytest

from parts.strength.plates import panel

NU = 0.3
FAN = (0.15, 0.25, 0.35, 0.42, 0.5, 0.58, 0.65, 0.75, 0.85)
"""Cuts through the corner, as shares of its angle, as the gusset plate takes them."""


def on_unit(count):
    node, weight = np.polynomial.legendre.leggauss(count)
    return (node + 1.0) / 2.0, weight / 2.0


def sums(u, v, b, angle, held, degree):
    """Polynomials u^i v^j in oblique shares of the legs 1 and b that vanish on the held legs; their value, slopes and
    second derivatives in x and y."""
    c, s = np.cos(angle), np.sin(angle)
    first = held[0]

    def power(z, n, times):
        return float(np.prod([n - m for m in range(times)])) * z ** max(n - times, 0)

    def of(p, q):
        return np.array([
            power(u, i, p) * power(v, j, q) / b**q
            for i in range(first, degree + 1) for j in range(1, degree + 1 + first - i)
        ])  # fmt: skip

    x, xx = of(1, 0), of(2, 0)
    xy = (of(1, 1) - c * xx) / s
    yy = (of(0, 2) - 2.0 * c * of(1, 1) + c**2 * xx) / s**2
    return of(0, 0), x, (of(0, 1) - c * x) / s, xx, yy, xy


def buckling(b, angle):
    """Matrices whose greatest eigenvalue is the share of buckling, for unit force square to the second leg, along it,
    and unit moment about its middle; E = t = 1, the first leg held in the plane."""
    c, s = np.cos(angle), np.sin(angle)
    node, weight = on_unit(26)
    u, v = np.meshgrid(node, node)
    area = np.outer(weight, weight).ravel() * (1.0 - u.ravel()) * b * s
    u, v = u.ravel(), (v * (1.0 - u)).ravel()
    _, x, y, *_ = sums(u, v, b, angle, (0, 1), 9)
    k, G = 1.0 / (1.0 - NU**2), 0.5 / (1.0 + NU)
    both = k * NU * (x * area) @ y.T + G * (y * area) @ x.T
    stiff = np.block([
        [k * (x * area) @ x.T + G * (y * area) @ y.T, both],
        [both.T, k * (y * area) @ y.T + G * (x * area) @ x.T],
    ])  # fmt: skip
    t, w = on_unit(20)
    edge = sums(0.0 * t, t, b, angle, (0, 1), 9)[0]
    out, along = np.array([-s, c]), np.array([c, s])
    loads = [(np.ones_like(t), out), (np.ones_like(t), along), (12.0 * (t - 0.5) / b, out)]
    force = np.stack([np.concatenate([edge @ (p * w) * one for one in way]) for p, way in loads], 1)
    moved = np.linalg.lstsq(stiff, force, rcond=1e-13)[0]
    across, up = moved[: len(x)].T, moved[len(x) :].T
    e_x, e_y, shear = across @ x, up @ y, G * (across @ y + up @ x)
    s_x, s_y = k * (e_x + NU * e_y), k * (e_y + NU * e_x)
    _, x, y, xx, yy, xy = sums(u, v, b, angle, (1, 1), 8)
    bends = (xx * area) @ xx.T + (yy * area) @ yy.T + 2.0 * (1.0 - NU) * (xy * area) @ xy.T
    bends += NU * ((xx * area) @ yy.T + (yy * area) @ xx.T)
    lower = np.linalg.inv(np.linalg.cholesky(bends / (12.0 * (1.0 - NU**2))))
    found = []
    for i in range(3):
        mixed = (x * (area * shear[i])) @ y.T
        push = -((x * (area * s_x[i])) @ x.T + (y * (area * s_y[i])) @ y.T + mixed + mixed.T)
        found.append(lower @ push @ lower.T)
    return np.array(found)


def by_hand(b, angle, loads):
    """Share by `corner_use` under loads (n, 3)."""
    c, s = np.cos(angle), np.sin(angle)
    out, along = np.array([-s, c]), np.array([c, s])
    h = np.sqrt(1.0 + b**2 - 2.0 * b * c)
    H = b * s / h
    edge = (b * along - np.array([1.0, 0.0])) / h
    force, moment = loads[:, :1] * out + loads[:, 1:2] * along, loads[:, 2]
    free, inner = [], []
    for share in FAN:
        way = np.array([np.cos(share * angle), np.sin(share * angle)])
        long = H / (way @ np.array([edge[1], -edge[0]]))
        arm = b / 2.0 * along - way * long / 2.0
        bent = -6.0 / long**2 * (moment + arm[0] * force[:, 1] - arm[1] * force[:, 0])
        push = -(force @ np.array([-way[1], way[0]])) / long
        free.append(push + bent)
        inner.append(push - bent)
    sheared = np.maximum(np.abs(force[:, 0]), np.abs(loads[:, 1]) / b)
    sigma = panel.triangle_buckling_stress(1.0, 1.0, h, H, angle, NU)
    return panel.corner_use(
        np.maximum(np.max(free, axis=0), 0.0), sheared, np.maximum(np.max(inner, axis=0), 0.0), sigma,
        panel.triangle_shear_buckling_stress(sigma, h, H), max(b, 1.0 / b), angle,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("degrees", "b", "high"),
    [
        (30.0, 2.5, 5.0), (45.0, 4.0, 5.0), (60.0, 2.5, 5.0), (90.0, 0.6, 5.0), (110.0, 1.0, 5.0),
        (160.0, 0.2, 30.0),
    ],
)  # fmt: skip
def test_no_load_buckles_a_corner_plate_sooner(degrees, b, high):
    angle = np.radians(degrees)
    loads = np.random.default_rng(7).normal(size=(400, 3)) * np.array([1.0, 1.0, b])
    opens = [[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]]
    loads = np.concatenate([loads, opens])
    shares = np.linalg.eigvalsh(np.einsum("ki,iab->kab", loads, buckling(b, angle)))[:, -1]
    found = by_hand(b, angle, loads)
    assert np.all(found >= shares)
    # Under half of the loads it is no more than so many times too high.
    assert np.median(found / np.maximum(shares, 1e-9)) <= high
    # A moment that opens the corner buckles it ten times later and more than one that closes it, but in a flat one.
    assert shares[-2] < 0.1 * shares[-1] or degrees > 150.0
