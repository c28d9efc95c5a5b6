"""How a bolt-on pad fails: its bolts, their holes and threads, and the pad bent beyond the body."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot, demand_of, fatigue_factor
from parts.core.feature import Modes
from parts.core.loads import LoadCase, Required
from parts.families.clevis.pad_bolts import PadBase
from parts.features.bolts.bolted_plate import BoltedPlate, bolt_modes, group_check, sliding
from parts.features.bolts.group import prying_checks
from parts.features.bolts.pattern import TappedHoles
from parts.features.section.notches import LOOSE as LOOSE_BOLT
from parts.features.section.notches import SHARP, flat_fillet
from parts.features.thread import threaded
from parts.features.thread.body import Body, OnBody
from parts.strength.bolted import stripping
from parts.strength.fatigue.notch import hole_in_plate, loaded_hole_peak, loaded_hole_stress
from parts.strength.method import plain, work
from parts.strength.plates import plate

HIGH_STEP = 3.0
"""The body beside the pad's fillet as a step of the pad, in its thicknesses on both sides [-]."""
BENT_TWICE = (
    "three times what bends the pad at its holes, held flat there, and the load of the hole itself"
)


def pad_modes(pad: PadBase, site: OnBody, case: LoadCase) -> Iterator[Check]:
    """Tension and shear of the bolts, bearing at their holes, and bending of the pad."""
    body, metal, actions, required = (
        site.body,
        site.metal,
        site.actions(case),
        site.required(case),
    )
    of = pad.plate(metal, body.edge_break)
    force, moment = pad.loads(body, actions)
    each, made = of.reactions(force, moment), pad.bolts.strengths
    pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
    yield from bolt_modes(of, each, case, required)
    if isinstance(pad.holes, TappedHoles):
        assert pad.bolts.of_thread is not None
        yield from threaded.strip_modes(
            "pad bolt",
            pad.bolts.of_thread,
            made.shear,
            metal,
            pad.thickness,
            pull,
            case.name,
            required,
        )
        if pad.holes.insert:
            yield _insert_check(pad, of, pull, case.name, required)
    yield from _bending(pad, body, of, case, moment, each, required)
    yield from group_check(of, force, moment, case, required)
    yield from prying_checks(
        of.group, each[..., 2], pad.thickness, pad._each_beside_body(body),
        np.asarray(of.edge())[..., None], np.asarray(of.pitch())[..., None],
        metal.ultimate_strength, case.name, required,
    )  # fmt: skip
    yield from sliding(of, each, case)


def _insert_check(
    pad: PadBase, plate: BoltedPlate, pull: Any, case: str, required: Required
) -> Check:
    """The wire insert torn out of the pad with its thread."""
    of = pad.bolts.of_thread
    assert of is not None
    return check(
        "pad bolt insert, pulled out", "thread strip", load_case=case, demand=pull, unit="N",
        capacity=work(
            stripping.boss_strip_capacity_insert, d=of.major, p=of.pitch, L_e=pad.thickness,
            tau=plate.metal.shear_ultimate, D_o=2.0 * plate.edge(),
        ),
        required=required.on_ultimate, note="an insert as long as the pad is thick",
    )  # fmt: skip


def _bending(
    pad: PadBase,
    body: Body,
    of: BoltedPlate,
    case: LoadCase,
    moment: Any,
    each: Any,
    required: Required,
) -> Iterator[Check]:
    """The pad as a strip that the bolts outside one side of the body bend about that side, and its pressed edge."""
    axial = np.abs(each[..., 2])
    pressed, at = of.pressed(moment)
    for side, index, across in (("y", 0, pad.height), ("z", 1, pad.width)):
        half = pad._body_half(body)[index]
        place = pad.places()[..., index]
        edge = [pressed * np.maximum(sign * at[..., index] - half, 0.0) for sign in (1.0, -1.0)]
        moments = [
            more
            + (axial * np.maximum(sign * place - np.asarray(half)[..., None], 0.0)).sum(axis=-1)
            for sign, more in zip((1.0, -1.0), edge, strict=True)
        ]
        stress = work(plate.flat_bending_stress, M=np.maximum(*moments), b=across, t=pad.thickness)
        for kind, strength, factor in required.both(
            of.metal.yield_strength, of.metal.ultimate_strength
        ):
            yield check(
                f"pad bending along {side}, {kind}", "pad bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note="the whole pad's width as a strip from the side of the body, pushed or pulled by the "
                "bolts beyond it: common practice, no source",
            )  # fmt: skip


def pad_spots(pad: PadBase, site: OnBody, modes: Modes) -> Iterator[Spot]:
    """Where the pad itself tires: beside the body, and at the rims of its holes."""
    metal, t, r = site.metal, pad.thickness, site.body.root_fillet
    of = pad.plate(metal, site.body.edge_break)
    bent = [demand_of(modes, f"pad bending along {side}, yield") for side in "yz"]

    def most(case: LoadCase) -> Any:
        return np.maximum(*(plain(one(case)) for one in bent))

    root = flat_fillet(HIGH_STEP * t, t, r) if np.all(np.asarray(r) > 0.0) else SHARP
    yield Spot("pad, beside the body", metal, most, t, fatigue_factor(metal, root))
    d, room = pad.hole, np.minimum(2.0 * of.edge(), of.pitch())
    tapped = isinstance(pad.holes, TappedHoles)
    shear = demand_of(modes, "pad hole, bearing")
    deep = pad.thickness if tapped else of.under_head

    def at_rim(case: LoadCase) -> Any:
        own = work(
            loaded_hole_stress,
            p=np.divide(plain(shear(case)), d * deep),
            d=d,
            W=room,
            clearance=LOOSE_BOLT,
        )
        passing = pad.bent_at_holes(site.body) * most(case) * room / (room - d)
        return work(loaded_hole_peak, K=work(hole_in_plate, beta=0.0), sigma=passing, own=own)

    yield Spot("pad, rim of its holes", metal, at_rim, t, note=BENT_TWICE)
