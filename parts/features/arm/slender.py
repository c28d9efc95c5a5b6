"""Thin arms and thin pockets that buckle: the arm topples sideways, a pocket's floor and flanges wave.

The arm is a cantilever from the hub, which a bearing beside it must hold upright, to the load point. A tapered
arm counts with its least stiffness along its whole length. Fillets are left out, and an edge break takes away the width
that it chamfers. Loads keep their direction.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.features.arm.arm import Arm
from parts.features.arm.blade import Blade
from parts.standards.materials.materials import Material
from parts.strength.columns import column, lateral
from parts.strength.method import Worked, plain, work
from parts.strength.plates import panel, plate

STATIONS = 9
"""Stations of a stretch at which the section is looked at [-]: both sides are straight, so few are enough."""
CANTILEVER = 2.0
"""Effective length of an arm that is held at its hub alone, in lengths [-]."""

SLENDER, THIN_FLOOR = 15.0, 15.0
"""Root of an arm's length times its width over its thickness, and its width over the floor of its pockets, past which
a proof looks for buckling [-]: a rectangle topples there at some 0.01 E."""


def slender(arm: Arm) -> Any:
    """Whether an arm is so thin that a proof looks for buckling."""
    least = (
        arm.thickness if arm.end_thickness is None else np.minimum(arm.thickness, arm.end_thickness)
    )
    thin = np.sqrt(arm.length * arm.width) > SLENDER * least
    return thin if arm.pocket is None else thin | (arm.width > THIN_FLOOR * arm.pocket.floor)


class AtRoot(NamedTuple):
    """What acts about the hub's rim under a load case, in the arm's axes: force [N] and moments [N*mm].

    With it how far it is to where the load acts, along the arm and the blades that go on from it [mm], and these.
    """

    force: Any
    moment: Any
    end_moment: Any
    length: Any
    beyond: Sequence[Blade] = ()


class _Sections(NamedTuple):
    """Rectangles or I sections along a stretch; lengths in mm, stations on the first axis."""

    x: Any
    wide: Any
    thick: Any
    inside: Any
    floor: Any

    @property
    def area(self) -> Any:
        return self.wide * self.thick - self.inside * (self.thick - self.floor)

    @property
    def strong(self) -> Any:
        """Section modulus in the plane of travel [mm^3]."""
        hollow = (self.thick - self.floor) * self.inside**3
        return (self.thick * self.wide**3 - hollow) / (6.0 * self.wide)

    @property
    def side(self) -> Any:
        """Second moment for bending sideways [mm^4]."""
        return (self.wide * self.thick**3 - self.inside * (self.thick**3 - self.floor**3)) / 12.0

    @property
    def thin(self) -> Any:
        """Section modulus sideways [mm^3]."""
        return 2.0 * self.side / self.thick

    @property
    def torsion(self) -> Any:
        """Torsion constant [mm^4]: the sum of an I's three rectangles is on the safe side."""
        flange = (self.wide - self.inside) / 2.0
        whole = _rectangle(self.wide, self.thick)
        parts = 2.0 * _rectangle(flange, self.thick) + _rectangle(self.inside, self.floor)
        return np.where(self.inside > 0.0, parts, whole)


def _rectangle(one: Any, other: Any) -> Any:
    t, d = np.minimum(one, other), np.maximum(one, other)
    return lateral.rectangle_torsion_constant(t, np.maximum(d, 1e-9))


def _stretches(blade: Blade, c: Any) -> Iterator[_Sections]:
    """The blade's stretches of one kind of section, its edge breaks by `c` [mm] taken off."""
    pocket = blade.arm.pocket
    if pocket is None:
        yield _sections(blade, blade.start, blade.end, c, None)
        return
    low, high = blade.pocket_span()
    yield _sections(blade, blade.start, low, c, None)
    yield _sections(blade, low, high, c, pocket)
    yield _sections(blade, high, blade.end, c, None)


def _sections(blade: Blade, low: Any, high: Any, c: Any, pocket: Any) -> _Sections:
    low, high = np.broadcast_arrays(np.asarray(low, float), np.asarray(high, float))
    share = np.linspace(0.0, 1.0, STATIONS).reshape(-1, *[1] * low.ndim)
    x = low + share * (high - low)
    wide, thick = 2.0 * blade.straight(x) - 2.0 * np.asarray(c), blade.thickness(x)
    if pocket is None:
        return _Sections(x, wide, thick, 0.0 * x, 0.0 * x)
    return _Sections(x, wide, thick, 2.0 * blade.pocket_side(x), pocket.floor + 0.0 * x)


def toppling_modes(
    name: str, blade: Blade, metal: Material, c: Any, at: AtRoot, case: str, required: Required
) -> Iterator[Check]:
    """The arm as a cantilever that topples sideways: elastic, and with yield.

    Args:
        name: what the arm is called.
        blade: the arm's blade.
        metal: what it is made of.
        c: edge break [mm].
        at: what acts about the hub's rim.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Three checks.
    """
    every = list(_stretches(blade, c))
    whole = [*every, *(one for other in at.beyond for one in _stretches(other, c))]
    E, long = metal.E, at.length
    EI, GJ = E * _least(whole, "side"), metal.G * _least(whole, "torsion")
    P_cr = work(lateral.end_load_buckling, EI_z=EI, GJ=GJ, L=long)
    alone = lateral.end_moment_buckling(EI, GJ, long)
    # A moment at the end counts as the load that uses as much of what topples the arm.
    # Blades at an angle count as one straight arm that all of the force acts across.
    force = at.force[..., 1]
    force = np.hypot(at.force[..., 0], force) if at.beyond else np.abs(force)
    across = force + np.abs(at.end_moment) * plain(P_cr) / alone
    push = np.maximum(-at.force[..., 0], 0.0)
    bent = work(column.effective_length, L_0=long, K=CANTILEVER)
    N_cr = work(column.euler_load, E=E, I_min=_least(whole, "side"), L=bent)
    use = work(lateral.toppling_use, P=across, P_cr=P_cr, N=push, N_cr=N_cr)
    note = "held upright by the bearing beside the hub; least stiffness of the arm along all of it"
    yield check(
        f"{name}, toppling sideways", "lateral-torsional buckling", load_case=case, demand=use, capacity=1.0, unit="-",
        required=required.on_ultimate, note=note,
    )  # fmt: skip
    share = partial(_share_borne, blade, metal, every, at, across, P_cr, use)
    aside = (
        "at its worst section, bent sideways as far as the loads times the required factor bend it"
    )
    yield check(
        f"{name}, toppling sideways, yield", "lateral-torsional buckling", load_case=case, capacity=1.0, unit="-",
        demand=share(required.on_yield), required=required.on_yield, note=f"{note}; {aside}",
    )  # fmt: skip
    yield check(
        f"{name}, bent aside, ultimate", "bending", load_case=case, capacity=1.0, unit="-",
        demand=share(required.on_ultimate, breaks=True), required=required.on_ultimate, note=aside,
    )  # fmt: skip


def _share_borne(
    blade: Blade, metal: Material, every: list[_Sections], at: AtRoot, across: Any, P_cr: Any, use: Any, n: float,
    *, breaks: bool = False,
) -> Worked:  # fmt: skip
    """The worst section of the arm, bent both ways and pushed by loads that are to be borne `n` times, until it topples
    with yield or breaks."""
    long = at.length
    x, strong, thin = (
        np.concatenate([getattr(one, of) for one in every]) for of in ("x", "strong", "thin")
    )
    x, strong, thin = (_against(one, at, n) for one in (x, strong, thin))
    left = long - (x - blade.start)
    aside = _aside(blade, at, x)
    area, strength = (
        _least(every, "area"),
        metal.ultimate_strength if breaks else metal.yield_strength,
    )
    N_R: Any = area * strength
    if not breaks:
        bent = work(column.effective_length, L_0=long, K=CANTILEVER)
        N_R = work(
            column.johnson_euler_load,
            E=metal.E,
            A=area,
            I_min=_least(every, "side"),
            L=bent,
            F_cy=strength,
        )

    bent_in, critical = across * left, plain(P_cr) * left
    if at.beyond:
        bent_in = np.abs(at.moment[..., 2] - (x - blade.start) * at.force[..., 1])
        # What nothing bends in its plane does not topple, at any critical moment above nil.
        critical = np.maximum(bent_in, 1e-6) / np.maximum(plain(use), 1e-12)

    def found(pick: Any) -> Worked:
        M_R: Any = pick(strong) * strength
        if not breaks:
            M_R = work(
                lateral.toppling_resistance, M_cr=pick(critical), W=pick(strong), F_y=strength
            )
        return work(
            lateral.toppling_yield_use, M=pick(bent_in), M_R=M_R, N=np.maximum(-at.force[..., 0], 0.0),
            N_R=N_R, M_s=pick(aside), W_s=pick(thin), F_y=strength, u_cr=use, n=n,
        )  # fmt: skip

    shares = np.asarray(found(lambda value: value).value)
    worst = np.argmax(shares, axis=0)[None]

    def pick(value: Any) -> Any:
        return np.take_along_axis(np.broadcast_to(value, shares.shape), worst, axis=0)[0]

    return found(pick)


def _least(every: list[_Sections], of: str) -> Any:
    return np.minimum.reduce([np.min(getattr(one, of), axis=0) for one in every])


def _against(stations: Any, at: AtRoot, n: Any = 1.0) -> Any:
    """Values of one arm's stations, with room behind them for many load cases; those of many arms have it."""
    loads = max(np.ndim(at.force), np.ndim(at.moment), np.ndim(at.end_moment) + 1, np.ndim(n) + 1)
    more = loads - np.ndim(stations)
    return np.reshape(stations, (*np.shape(stations), *[1] * more))


def _aside(blade: Blade, at: AtRoot, x: Any) -> Any:
    """Moment sideways at stations of the centre line [N*mm], its sign left out."""
    off, rise = x - blade.start, blade.middle(x) - blade.middle(blade.start)
    return np.abs(at.moment[..., 1] + off * at.force[..., 2] - rise * at.force[..., 0])


def pocket_modes(
    name: str, blade: Blade, metal: Material, c: Any, at: AtRoot, case: str, required: Required
) -> Iterator[Check]:
    """A pocket's floor and flanges that wave: the largest moment along the pockets on their least section.

    Args:
        name: what the arm is called.
        blade: the arm's blade, with pockets.
        metal: what it is made of.
        c: edge break [mm].
        at: what acts about the hub's rim.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        Two checks.
    """
    pocket = blade.arm.pocket
    assert pocket is not None
    low, high = blade.pocket_span()
    found = _sections(blade, low, high, c, pocket)
    one = _Sections(*(_against(each, at) for each in found))
    off = one.x - blade.start
    bent = np.abs(at.moment[..., 2] - off * at.force[..., 1])
    aside = _aside(blade, at, one.x)
    push = np.maximum(-at.force[..., 0], 0.0) / one.area
    flat = np.max(bent / one.strong + push, axis=0)
    edge = flat + np.max(aside / one.thin, axis=0)
    shear = np.abs(at.force[..., 1]) / np.min(one.floor * one.inside, axis=0)
    shear = shear + np.max(np.abs(at.moment[..., 0]) * one.floor / one.torsion, axis=0)
    floor, across, long = pocket.floor, np.max(one.inside, axis=0), high - low
    sheared = work(
        panel.shear_buckling_stress, E=metal.E, t=floor, a=long, b=across, nu=metal.poisson
    )
    # Longer than ten widths, a panel waves no sooner: the stress hardly changes beyond two.
    pressed = work(
        panel.held_buckling_stress, E=metal.E, t=floor, a=np.minimum(long, 10.0 * across), b=across,
        nu=metal.poisson,
    )  # fmt: skip
    F_y = metal.yield_strength
    in_shear = work(panel.panel_strength, F_e=sheared, F=metal.shear_yield)
    in_push = work(panel.panel_strength, F_e=pressed, F=F_y)
    reserve = work(panel.panel_reserve, R_c=flat / plain(in_push), R_s=shear / plain(in_shear))
    yield check(
        f"{name}, floor of the pockets waving", "panel buckling", load_case=case, demand=1.0, unit="-",
        capacity=reserve, required=required.on_yield,
        note="sheared by all of the load, pressed all over as its edge is; held on four sides",
    )  # fmt: skip
    out = np.max(one.thick - one.floor, axis=0) / 2.0
    flange = np.min(one.wide - one.inside, axis=0) / 2.0
    yield check(
        f"{name}, flanges of the pockets waving", "panel buckling", load_case=case, demand=edge, unit="MPa",
        capacity=work(
            plate.free_edge_buckling_stress, E=metal.E, F_y=F_y, t=flange, b=out, a=long, nu=metal.poisson
        ),
        required=required.on_yield, note="the outer edges are free, the floor holds the inner ones",
    )  # fmt: skip
