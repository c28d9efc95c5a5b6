"""A tab as a lug: a flat of one thickness on a pin, its root, what it stands on, and how it buckles."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.loads import LoadCase, Required
from parts.core.ways import Kind
from parts.features.pins.lug import bearing_strengths
from parts.features.pins.lug_standards import PinnedPlate, manual_modes, standard_modes
from parts.features.pins.pin import BushedHole, Pin
from parts.features.press.pressed import Pressed
from parts.standards.materials.materials import Material
from parts.strength.columns import column, lateral, sway
from parts.strength.fatigue.mean_stress import mises
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.pinned import pin as pins
from parts.strength.plates import plate

PUSHER = 4.0
"""Length of what pushes a tab, over the tab's reach, at the least [-]; common practice, no source."""


class TabLug(NamedTuple):
    """A tab on one pin; all lengths in mm.

    Attributes:
        pin: the pin.
        bore: of the tab.
        width: of the tab at the pin.
        thickness: of the tab.
        reach: from the hole to the root.
        end: from the hole to the end.
        behind: the width behind the root that can take a pull.
        beside: what the pin holds beside the tab; None where it is held astride.
        bush: the bush in the bore; None without.
        shank: diameter of the pin that shears and bends; that of the pin where None.
        spread: the width that bends at the root; the width of the tab where None.
    """

    pin: Pin
    bore: Any
    width: Any
    thickness: Any
    reach: Any
    end: Any
    behind: Any
    beside: Any = None
    bush: Pressed | None = None
    shank: Any = None
    spread: Any = None

    @property
    def sheared(self) -> Any:
        """Diameter of the pin that shears and bends [mm]."""
        return self.pin.diameter if self.shank is None else self.shank

    @property
    def wide(self) -> Any:
        """Width that bends at the root [mm]."""
        return self.width if self.spread is None else self.spread

    @property
    def arm(self) -> Any:
        """From the tab's middle to the middle of what the pin holds beside it [mm]; none astride."""
        return 0.0 if self.beside is None else (self.thickness + self.beside) / 2.0

    def bent(self, force: Any) -> Any:
        """What bends the tab sideways at its root [N*mm]: the force across it, and a pull or push beside it."""
        return np.abs(force[..., 2]) * self.reach + np.abs(force[..., 0]) * self.arm


ASTRIDE = "the clevis astride the tab bends the pin, and answers for it"
KEPT = "head and nut of a bolt bear many times the force along it that bends the tab for good"
PIN_NOTCH = 3.0
"""Fatigue factor of a pin's or bolt's shank where thread or groove may lie in the bent length: a cut thread's, SAE
grade 5 and up; Shigley, Table 8-16, from memory."""


def tab_kinds(pin: Pin, beside: Any, name: str) -> list[Kind]:
    """What can fail of a tab that is called so."""
    out = {"walked out": KEPT}
    if beside is None:
        ways = ("bent for good", "broken in bending", "shear with bending", "fatigue of the pin")
        out |= dict.fromkeys(ways, ASTRIDE)
    found = [
        Kind("edge tab", name),
        Kind("pin in a lug", name),
        Kind("pin", f"{name} pin", left_out=out),
    ]
    return (
        [*found, Kind("pressed-in ring", f"{name} bush")]
        if isinstance(pin.hole, BushedHole)
        else found
    )


def tab_bush(pin: Pin, width: Any, thickness: Any, metal: Material, name: str) -> Pressed | None:
    """The bush in a tab of this width at the hole and this thickness [mm]; None without."""
    hole = pin.hole
    if not isinstance(hole, BushedHole):
        return None
    least = (width - hole.outside) / 2.0
    return Pressed(
        f"{name} bush", hole.outside, pin.diameter, least, thickness, metal, hole.material, hole.fit
    )


def pin_details(
    pin: Pin, beside: Any, name: str, modes: Callable[[LoadCase], Sequence[Check]]
) -> list[Detail]:
    """The pin of a tab in single shear, for fatigue; `modes` gives the part's checks under a load case."""
    if beside is None:
        return []
    stress = demand_of(modes, f"{name} pin, bending, yield")
    return [
        Spot(
            f"{name} pin",
            pin.material,
            stress,
            pin.diameter,
            PIN_NOTCH,
            note="thread or groove where it is bent",
        )
    ]


def tab_modes(
    tab: TabLug, force: Any, metal: Material, case: str, required: Required, name: str
) -> Iterator[Check]:
    """The tab as a lug, its root, and the plate behind it.

    Args:
        tab: the tab.
        force: force on the tab, shape (..., 3): out of the edge, along it, across the plate [N].
        metal: what it is made of, beside a weld where one is near.
        case: name of the load case.
        required: the factors asked for.
        name: what the tab is called.

    Returns:
        The checks.
    """
    on = partial(check, load_case=case)
    bore, t, w, end = tab.bore, tab.thickness, tab.width, tab.end
    pull, along, side = force[..., 0], force[..., 1], force[..., 2]
    out = np.maximum(pull, 0.0)
    across = np.hypot(pull, along)
    press = tab.pin.bearing_diameter
    yields, ultimate = bearing_strengths(metal, end / press)
    kinds = (
        ("yield", metal.yield_strength, metal.shear_yield, yields, required.on_yield),
        ("ultimate", metal.ultimate_strength, metal.shear_ultimate, ultimate, required.on_ultimate),
    )
    for kind, tension, shear, bearing, factor in kinds:
        yield on(
            f"{name}, pull, {kind}", "lug", demand=out, unit="N", required=factor,
            capacity=work(
                plate.tab_load, w=w, w_0=w, D_h=bore, D_p=press, R=end, r=end, t=t, F_tu=tension, F_su=shear,
                F_bru=bearing,
            ),
            note="the least of net section, shear-out, bearing and root",
        )  # fmt: skip
        yield on(
            f"{name} bearing, {kind}", "bearing", unit="MPa", required=factor, capacity=bearing,
            demand=work(lug.bearing_stress, P=across, D_p=press, t=t),
        )  # fmt: skip
        yield on(
            f"{name} root, {kind}", "bending", unit="MPa", required=factor, capacity=tension,
            demand=work(plate.edge_stress, P=np.abs(pull), M=along * tab.reach, t=t, d=w),
        )  # fmt: skip
        yield on(
            f"{name} root, side bending, {kind}", "side bending", unit="MPa", required=factor,
            capacity=tension,
            demand=work(plate.flat_bending_stress, M=tab.bent(force), t=t, b=tab.wide),
        )  # fmt: skip
        behind = work(plate.whitmore_width, s=press, L=tab.reach, w=tab.behind)
        yield on(
            f"{name.replace('tab', 'plate behind the tab')}, {kind}", "tension", demand=out, unit="N", required=factor,
            capacity=work(plate.plate_tension_load, w_n=behind, t=t, F=tension),
            note="the pull spreads at 30 degrees from the pin to the free edge",
        )  # fmt: skip
    if tab.bush is not None:
        yield tab.bush.along(name, case, np.abs(side), required)
        yield on(
            f"{name} bush, crushed", "bearing", unit="N", required=required.on_ultimate, demand=across,
            capacity=work(lug.bush_load, D_p=tab.pin.diameter, t=t, F_cy=tab.bush.made.yield_strength),
        )  # fmt: skip
    if tab.beside is not None:
        yield from _single_shear(tab, pull, along, t, kinds, on, name)
        yield from _pin_bent(tab, across, case, required, name)
    one = PinnedPlate(w, bore, press, t, end, end, end - bore / 2.0, radius=end)
    yield from standard_modes(one, f"{name}", metal, case, out, across, required)
    yield from manual_modes(one, f"{name}", metal, case, force, out, required)
    yield on(
        f"{name}, block shear", "block shear", demand=out, unit="N", required=required.on_ultimate,
        capacity=work(
            plate.block_shear_load, A_gv=2.0 * end * t, A_nv=2.0 * (end - bore / 2.0) * t, A_nt=0.0,
            F_y=metal.yield_strength, F_u=metal.ultimate_strength,
        ),
        note="both planes from the pin's centre line to the end; one pin leaves no tension across",
    )  # fmt: skip
    yield from _buckling(tab, force, metal, on, required, name)
    yield on(
        f"{name} pin, shear", "shear", unit="MPa", required=required.on_ultimate,
        demand=work(pins.single_shear, F=across, D=tab.sheared), capacity=tab.pin.material.shear_ultimate,
    )  # fmt: skip


def _single_shear(
    tab: TabLug, pull: Any, along: Any, t: Any, kinds: Any, on: Any, name: str
) -> Iterator[Check]:
    """What a load beside the tab does to it: the pull bends it across its thickness, a load along the edge twists
    it; the ball joint or lever beside it takes no moment."""
    arm, w = tab.arm, tab.width
    bent = work(plate.flat_bending_stress, M=np.abs(pull) * arm, b=w, t=t)
    twisted = work(plate.flat_twist_stress, T=np.abs(along) * arm, b=w, t=t)
    stress = work(mises, sigma=bent, tau=twisted)
    for kind, tension, _, _, factor in kinds:
        yield on(
            f"{name} in single shear, {kind}", "bending and torsion", unit="MPa", required=factor,
            demand=stress, capacity=tension,
            note="the load acts beside the plate, half of both thicknesses off its middle; a clevis astride the tab "
            "would not bend it",
        )  # fmt: skip


def _buckling(
    tab: TabLug, force: Any, metal: Material, on: Any, required: Required, name: str
) -> Iterator[Check]:
    """A tab that sways out of its plane under a push, topples under a load along the edge, or is bent aside by both."""
    push, along = np.maximum(-force[..., 0], 0.0), np.abs(force[..., 1])
    t, w, L = tab.thickness, tab.width, tab.reach
    K = work(sway.sway_length_factor, L=L, c=PUSHER * np.asarray(L))
    N_R = work(sway.ear_push_load, E=metal.E, t=t, w=w, L=L, F_cy=metal.yield_strength, n=1.0, K=K)
    yield on(
        f"{name}, sway", "buckling", demand=push, unit="N", required=required.on_yield, capacity=N_R,
        note=f"pushed by a link {PUSHER:g} times as long that pivots at both ends",
    )  # fmt: skip
    G, depth = metal.E / (2.0 * (1.0 + metal.poisson)), np.maximum(w, t)
    J = work(lateral.rectangle_torsion_constant, t=np.minimum(t, w), d=depth)
    I_min = w * t**3 / 12.0
    load = work(lateral.end_load_buckling, EI_z=metal.E * I_min, GJ=G * J.value, L=L)
    swayed = work(
        column.euler_load, E=metal.E, I_min=I_min, L=work(column.effective_length, L_0=L, K=K)
    )
    # Both ways of buckling grow a side bend, so the shares that they use are added.
    use = work(lateral.toppling_use, P=along, P_cr=load, N=push, N_cr=swayed)
    W, F_y, F_u = t * w**2 / 6.0, metal.yield_strength, metal.ultimate_strength
    borne = partial(
        work,
        lateral.toppling_yield_use,
        M=along * L,
        N=push,
        M_s=tab.bent(force),
        W_s=tab.wide * t**2 / 6.0,
        u_cr=use,
    )
    aside = "bent aside as far as the loads times the required factor bend it"
    M_R = work(lateral.toppling_resistance, M_cr=load.value * L, W=W, F_y=F_y)
    yield on(
        f"{name}, toppling", "buckling", capacity=1.0, unit="-", required=required.on_yield, note=aside,
        demand=borne(M_R=M_R, N_R=N_R, F_y=F_y, n=required.on_yield),
    )  # fmt: skip
    yield on(
        f"{name}, bent aside, ultimate", "bending", capacity=1.0, unit="-", required=required.on_ultimate, note=aside,
        demand=borne(M_R=W * F_u, N_R=w * t * F_u, F_y=F_u, n=required.on_ultimate),
    )  # fmt: skip


def _pin_bent(
    tab: TabLug, across: Any, case: str, required: Required, name: str
) -> Iterator[Check]:
    """The pin of a tab in single shear: what it holds is free to turn, so that the tab takes the whole couple."""
    metal, D = tab.pin.material, tab.sheared
    half = work(pins.single_shear_moment, P=across, t1=tab.thickness, t2=tab.beside, g=0.0)
    moment = 2.0 * np.asarray(half.value)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield check(
            f"{name} pin, bending, {kind}", "bending", load_case=case, unit="MPa", required=factor,
            demand=work(pins.bending_stress, M=moment, D=D), capacity=strength,
            note="half of both thicknesses as the arm of the whole load",
        )  # fmt: skip
    yield check(
        f"{name} pin, shear with bending", "shear and bending", load_case=case, unit="-", capacity=1.0,
        required=required.on_ultimate,
        demand=work(
            pins.shear_and_bending, V=across, V_u=work(pins.shear_load, D=D, F_s=metal.shear_ultimate, n=1.0),
            M=moment, M_u=work(pins.bending_moment_capacity, D=D, F=metal.ultimate_strength),
        ),
    )  # fmt: skip
