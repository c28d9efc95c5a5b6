"""How a sheet bracket fails: its legs at their bends and holes, and its base between the legs and the bolts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, Stress, demand_of
from parts.core.feature import Modes
from parts.core.loads import Action, LoadCase, Required, point_actions, resultant
from parts.families.sheet_bracket.leg import Leg, Standing
from parts.families.sheet_bracket.shaking import leaning
from parts.families.sheet_bracket.shape import WASHER, BracketShape
from parts.features.bolts.bolted_plate import bolt_modes, group_check, sliding, turning
from parts.features.bolts.group import prying_checks
from parts.features.bolts.lengths import of_size
from parts.features.bolts.pattern import tightened_as
from parts.features.bolts.slip import settled_loss
from parts.features.bolts.torque import PROOF_SHARE, SCATTER
from parts.features.section.notches import LOOSE
from parts.strength.bolted import joint
from parts.strength.columns import column, sway
from parts.strength.fatigue.life import equivalent_diameter
from parts.strength.fatigue.notch import hole_in_plate, loaded_hole_peak, loaded_hole_stress
from parts.strength.method import Worked, plain, work
from parts.strength.plates import boss, plate, sheet
from parts.strength.section.bar import bend_stress

HEAD = 1.6
"""Mean diameter of a hexagon head or nut over that of its bolt [-]: ISO 4014, from memory."""
LEVER = 2.0 / 3.0
"""Resultant of a pressure that runs straight from nothing at a bolt to its most at an edge, over its distance [-]."""
ROUND = 0.370
"""Equivalent diameter of a round bar that does not turn over its own [-]: `equivalent_diameter_round`."""
LEANT = "bent on by the push as the factor times the load bends it"
AROUND_BEND = (0.0, 0.25, 0.5, 0.75, 1.0)


def leg_actions(
    part: BracketShape, one: Standing, case: LoadCase, *, held: bool = False
) -> Sequence[Action]:
    """What acts on a leg, or of it what comes through its holes alone."""
    names = (one.name, f"{one.name} mass", *(() if held else (f"{one.name} itself",)))
    return point_actions(case, part.points(), names)


def hole_force(part: BracketShape, one: Standing, case: LoadCase, off: Any) -> Action:
    """What one hole of a leg bears: its share, and its part of the couple in the plane of the sheet."""
    at = one.way(one.leg.reach)
    force, moment = resultant(leg_actions(part, one, case, held=True), at)
    axes, share = one.frame(one.leg.reach), force / len(one.leg.offsets)
    if one.leg.pitch is not None:
        turn = np.sum(moment * axes[..., 2, :], axis=-1)
        size = -turn / (2.0 * np.asarray(off, float))
        share = share + size[..., None] * axes[..., 0, :]
    return Action(one.way(one.leg.reach, off), share)


def leg_modes(part: BracketShape, one: Standing, case: LoadCase) -> Iterator[Check]:
    """A leg at its root and its bends, and the sheet round its holes."""
    required, metal, t = part.factors(case), part.metal, part.thickness
    acting, on = leg_actions(part, one, case), partial(check, load_case=case.name, unit="MPa")
    leans = leant(part, one, case)
    yield check(
        f"root of {one.name}, leans under its push", "buckling", load_case=case.name, demand=leans, capacity=1.0,
        required=required.on_ultimate, unit="-",
        note="base and leg, each stretch alone taken to give: a lower bound of what buckles them",
    )  # fmt: skip
    both = required.both(metal.yield_strength, metal.ultimate_strength)
    for i, (low, high) in enumerate(one.strip.bends(), 1):
        name = bend_name(one, i)
        moment, pull = 0.0, 0.0
        for u in AROUND_BEND:
            s = low + u * (high - low)
            force, turn = resultant(acting, one.way(s))
            moment = np.maximum(moment, np.abs(np.sum(turn * one.axes[1], axis=-1)))
            pull = np.maximum(pull, np.linalg.norm(force, axis=-1))
        wide, turn_ = part.spread(one, high), one.strip.turns[i - 1]
        for kind, strength, factor in both:
            # The force counts as the moment that bends the sheet as much.
            grown = _grown(moment, leans, factor) + pull * t / 6.0
            yield on(
                f"inside of the {name}, {kind}", "bending", required=factor, capacity=strength,
                demand=work(bend_stress, M=grown, b=wide, t=t, r_i=turn_.radius),
                note=f"over the width that the load spreads to; {LEANT}",
            )  # fmt: skip
    moment = np.abs(np.sum(resultant(acting, one.way(0.0))[1] * one.axes[1], axis=-1))
    wide = work(sheet.spread_width, a=one.leg.reach, d=part.spread(one, one.leg.reach), w=one.wide)
    for kind, strength, factor in both:
        yield on(
            f"root of {one.name}, {kind}", "bending", required=factor, capacity=strength,
            demand=work(plate.flat_bending_stress, M=_grown(moment, leans, factor), t=t, b=wide),
            note=f"over the width that the load spreads to on its way from the holes; {LEANT}",
        )  # fmt: skip
    yield from _at_holes(part, one, case, required)


def leant(part: BracketShape, one: Standing, case: LoadCase) -> Worked:
    """Share of what would buckle a leg on its base that its push is."""
    return work(sway.leaning_use, u=leaning(part, one, leg_actions(part, one, case)))


def _grown(moment: Any, leans: Worked, factor: Any) -> Any:
    """A moment grown by the push as the factor times the load grows it; once that buckles, as the load itself."""
    n = column.borne_before(plain(leans), 1.0, factor)
    return work(column.grown_moment, M_0=moment, u_cr=leans, n=n).value


def bend_name(one: Standing, i: int) -> str:
    """What a bend of a leg is called."""
    return f"bend of {one.name}" if len(one.leg.bends) < 2 else f"bend {i} of {one.name}"


def _at_holes(
    part: BracketShape, one: Standing, case: LoadCase, required: Required
) -> Iterator[Check]:
    """What off-set masses do to the bolts of a leg, and these to the sheet."""
    leg, metal, t, d = one.leg, part.metal, part.thickness, one.leg.pin.diameter
    force, moment = resultant(leg_actions(part, one, case, held=True), one.way(leg.reach))
    axes, n = one.frame(leg.reach), len(leg.offsets)
    side = np.abs(np.sum(force * axes[..., 2, :], axis=-1))
    rolls, tilts, turns = (np.abs(np.sum(moment * axes[..., i, :], axis=-1)) for i in range(3))
    room = np.minimum(leg.end, leg.reach - one.strip.last)
    across = leg.pitch if leg.pitch is not None else LEVER * one.wide / 2.0
    pull = side / n + tilts / (n * LEVER * room) + rolls / across
    on = partial(check, load_case=case.name)
    yield on(
        f"sheet at the holes of {one.name}, pulled through", "pull through", unit="N", demand=pull,
        required=required.on_ultimate,
        capacity=work(sheet.pull_through_load, d_m=HEAD * d, t=t, F_u=metal.ultimate_strength),
        note="a head without a washer; masses beside the holes lever it off the sheet's edge",
    )  # fmt: skip
    if (nut := leg.pin.set_nut(t, metal, one.name)) is not None:
        every = [hole_force(part, one, case, off).force for off in leg.offsets]
        flat = [np.linalg.norm(f - np.sum(f * axes[..., 2, :], -1)[..., None] * axes[..., 2, :], axis=-1)
                for f in every]  # fmt: skip
        shear = np.max(np.stack(np.broadcast_arrays(*flat)), axis=0)
        yield from nut.modes(leg.pin.material.shear_ultimate, pull, shear, case, required)
    hangs = tilts / n if leg.pitch is not None else np.hypot(tilts, rolls)
    tilted = work(boss.trunnion_stress, M=hangs, t=t, d=WASHER * d, a=np.inf, nu=metal.poisson)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield on(
            f"sheet at the holes of {one.name}, tilted, {kind}", "bending", unit="MPa", required=factor,
            demand=tilted, capacity=strength, note="the washer as a rigid boss that the mass tilts",
        )  # fmt: skip
    if leg.pitch is None:
        clamped = _clamp(part, leg) - required.on_yield * pull
        yield turning(one.name, turns, clamped, HEAD * d / 2.0, case, required)


def _clamp(part: BracketShape, leg: Leg) -> Any:
    """Least preload of the bolt in a leg's hole, once its faces have settled [N]; none of a pin, or of a bolt that
    holds nothing beside the leg."""
    if leg.pin.bolt is None or leg.beside is None:
        return 0.0
    of = of_size(leg.pin.bolt)
    thread = of.thread
    to, deep = tightened_as(of.strength, thread), part.thickness + leg.beside
    if (nut := leg.pin.set_nut(part.thickness, part.metal, leg.side)) is not None:
        to, deep = nut.tightened(to, thread.stress_area), leg.beside + nut.below
    load = PROOF_SHARE * to * thread.stress_area
    loss = settled_loss(part.metal, thread.major, thread.stress_area, deep, 2)
    return joint.least_preload(load, SCATTER) - plain(loss)


def base_load(part: BracketShape, case: LoadCase) -> tuple[Any, Any]:
    """What acts on the base at its foot, about its middle: force [N] and moment [N*mm]."""
    middle = part.middle
    foot = np.concatenate([middle, 0.0 * middle[..., :1]], axis=-1)
    return resultant(point_actions(case, part.points()), foot)


def base_modes(part: BracketShape, case: LoadCase) -> Iterator[Check]:
    """The bolts of the base, their holes, and the base between them and each leg."""
    required, of = part.factors(case), part.plate
    force, moment = base_load(part, case)
    each = of.reactions(force, moment)
    yield from bolt_modes(of, each, case, required)
    if part.base.into is not None:
        yield from part.base.into.modes(part.base.bolts, each, case, required)
    if len(part.base.at) > 1:
        yield from group_check(of, force, moment, case, required)
    through = work(
        sheet.pull_through_load, d_m=HEAD * part.base.bolts.diameter, t=part.thickness,
        F_u=part.metal.ultimate_strength,
    )  # fmt: skip
    # What a bolt is pried with goes through its head and its nut too.
    weakest = np.minimum(of.group.tension, plain(through))
    if part.base.into is not None:
        weakest = np.minimum(weakest, part.base.into.on(part.base.bolts).held)
    pried = replace(of.group, tension=weakest)
    yield from prying_checks(
        pried, each[..., 2], part.thickness, part.to_legs, np.asarray(of.edge())[..., None],
        np.minimum(of.pitch(), np.minimum(of.width, of.height))[..., None], part.metal.ultimate_strength,
        case.name, required, "base bolt",
    )  # fmt: skip
    pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
    yield check(
        "sheet at the holes of the base, pulled through", "pull through", unit="N", demand=pull,
        load_case=case.name, required=required.on_ultimate, capacity=through,
        note="a head without a washer",
    )  # fmt: skip
    yield from sliding(of, each, case)
    if of.alone:
        clamped = of.least_preload() - required.on_yield * pull
        yield turning(
            "base", np.abs(moment[..., 2]), clamped, HEAD * of.bolts.diameter / 2.0, case, required
        )
    for one in part.stands.values():
        yield from _toward(part, one, case, required)


def _toward(
    part: BracketShape, one: Standing, case: LoadCase, required: Required
) -> Iterator[Check]:
    """The base through the bolts nearest to a leg: all that the leg carries bends what is left beside their holes."""
    axes, row, d = one.axes, part.row(one), part.base.hole
    at = one.way(0.0) - np.asarray(row, float)[..., None] * axes[0]
    force, moment = resultant(leg_actions(part, one, case), at)
    left = np.maximum(part.seated(one) - part.in_row(one) * d, 1e-6)
    whole = part.side(one) - part.in_row(one) * d
    beside = plate.edge_stress(
        np.linalg.norm(force, axis=-1), np.abs(moment @ axes[2]), part.thickness, whole
    )
    metal, leans = part.metal, leant(part, one, case)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        # What acts in the plane counts as the moment that bends the sheet as much.
        turned = _grown(np.abs(moment @ axes[1]), leans, factor)
        turned = turned + beside * left * part.thickness**2 / 6.0
        yield check(
            f"base beside its bolts toward {one.name}, {kind}", "bending", load_case=case.name, unit="MPa",
            required=factor, capacity=strength,
            demand=work(plate.flat_bending_stress, M=turned, b=left, t=part.thickness),
            note=f"over the width that the bolts nearest to the leg hold, less their holes; {LEANT}",
        )  # fmt: skip


def fatigue_spots(part: BracketShape, modes: Modes) -> Sequence[Detail]:
    """The inside of every bend, and the base beside its bolts."""
    found: list[Detail] = []
    metal, t = part.metal, float(np.max(part.thickness))
    d, of = part.base.hole, part.plate
    room = np.minimum(2.0 * of.edge(), of.pitch())
    bears = demand_of(modes, "base hole, bearing")

    def at_rim(case: LoadCase, bent: Stress) -> Any:
        pressed = np.divide(plain(bears(case)), d * part.thickness)
        own = work(loaded_hole_stress, p=pressed, d=d, W=room, clearance=LOOSE)
        return work(
            loaded_hole_peak, K=work(hole_in_plate, beta=0.0), sigma=plain(bent(case)), own=own
        )

    for one in part.stands.values():
        size = equivalent_diameter(t, float(np.max(one.wide))) / ROUND
        for i in range(1, len(one.leg.bends) + 1):
            name = bend_name(one, i)
            stress = demand_of(modes, f"inside of the {name}, yield")
            found.append(
                Spot(name, metal, stress, size, note="the bend's own stress at its inside")
            )
        base = f"base beside its bolts toward {one.name}"
        bent = demand_of(modes, f"{base}, yield")
        note = (
            "three times what bends what is left beside the holes, and the load of the hole itself"
        )
        found.append(Spot(base, metal, partial(at_rim, bent=bent), size, note=note))
    return found
