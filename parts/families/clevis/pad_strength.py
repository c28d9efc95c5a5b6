"""How a bolt-on pad fails: its bolts, their holes and threads, and the pad bent beyond the body."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot, demand_of, fatigue_factor
from parts.core.feature import Modes
from parts.core.loads import LoadCase, Required
from parts.families.clevis.pad_bolts import PadBase
from parts.features.bolts.group import Group as BoltGroup
from parts.features.bolts.group import centre_check, prying_checks
from parts.features.bolts.pattern import TappedHoles
from parts.features.bolts.slip import AGAINST_SLIP
from parts.features.section.notches import LOOSE as LOOSE_BOLT
from parts.features.section.notches import SHARP, flat_fillet
from parts.features.thread import threaded
from parts.features.thread.body import Body, OnBody
from parts.standards.materials.materials import Material
from parts.strength.bolted import group as boltgroup
from parts.strength.bolted import joint, slots, stripping
from parts.strength.bolted import plate as boltplate
from parts.strength.fatigue.notch import hole_in_plate, loaded_hole_peak, loaded_hole_stress
from parts.strength.method import plain, work
from parts.strength.plates import plate
from parts.strength.section import bar

HIGH_STEP = 3.0
"""The body beside the pad's fillet as a step of the pad, in its thicknesses on both sides [-]."""
BENT_TWICE = (
    "three times what bends the pad at its holes, held flat there, and the load of the hole itself"
)
LOOSE = 0.2
"""Gap of a round hole over the bolt from which it counts as oversize [-]; common practice, no source."""
PRESSED_FLAT = "rigid pad on bolts of equal stiffness, neither preload nor prying counted"


def pad_modes(pad: PadBase, site: OnBody, case: LoadCase) -> Iterator[Check]:
    """Tension and shear of the bolts, bearing at their holes, and bending of the pad."""
    body, metal, actions, required = (
        site.body,
        site.metal,
        site.actions(case),
        site.required(case),
    )
    each = pad.reactions(body, actions)
    pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
    shears = np.hypot(each[..., 0], each[..., 1])
    on = partial(check, load_case=case.name)
    made, area = pad.bolts.strengths, pad.bolts.area
    stress = work(bar.direct_stress, F=pull, A=area)
    note = f"worst bolt; {PRESSED_FLAT}: {boltgroup.bolt_reactions.source}"  # type: ignore[attr-defined]
    for kind, strength, factor in required.both(made.on_yield, made.ultimate):
        yield on(
            f"pad bolt, tension, {kind}", "bolt tension", demand=stress, capacity=strength, unit="MPa",
            required=factor, note=note,
        )  # fmt: skip
    yield on(
        "pad bolt, shear", "bolt shear", demand=work(bar.direct_stress, F=shears.max(axis=-1), A=area),
        capacity=made.shear, unit="MPa", required=required.on_ultimate,
        note=f"{note}; threads in the plane",
    )  # fmt: skip
    both = boltplate.elliptical_use(
        np.maximum(each[..., 2], 0.0), shears, area * made.ultimate, area * made.shear
    )  # fmt: skip
    worst = np.argmax(both, axis=-1)[..., None]
    yield on(
        "pad bolt, shear with tension", "bolt shear and tension", capacity=1.0, unit="-",
        demand=work(
            boltplate.elliptical_use, V=np.take_along_axis(shears, worst, -1)[..., 0],
            V_u=area * made.shear,
            T=np.take_along_axis(np.maximum(each[..., 2], 0.0), worst, -1)[..., 0],
            T_u=area * made.ultimate,
        ),
        required=required.on_ultimate, note=note,
    )  # fmt: skip
    yield on(
        "pad hole, bearing", "bearing", demand=shears.max(axis=-1), unit="N", required=required.on_ultimate,
        capacity=work(
            plate.hole_bearing_load, l_c=pad._edge() - pad.hole / 2.0, d=pad.bolts.diameter,
            t=pad._under_head(), F_u=metal.ultimate_strength,
        ),
    )  # fmt: skip
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
            yield _insert_check(pad, metal, pull, case.name, required)
    yield from _bending(pad, body, metal, case, actions, each, required)
    yield from _second_methods(pad, body, metal, case, actions, each, required)
    yield from _sliding(pad, metal, case, each)


def _insert_check(pad: PadBase, metal: Material, pull: Any, case: str, required: Required) -> Check:
    """The wire insert torn out of the pad with its thread."""
    of = pad.bolts.of_thread
    assert of is not None
    return check(
        "pad bolt insert, pulled out", "thread strip", load_case=case, demand=pull, unit="N",
        capacity=work(
            stripping.boss_strip_capacity_insert, d=of.major, p=of.pitch, L_e=pad.thickness,
            tau=metal.shear_ultimate, D_o=2.0 * pad._edge(),
        ),
        required=required.on_ultimate, note="an insert as long as the pad is thick",
    )  # fmt: skip


def _second_methods(
    pad: PadBase,
    body: Body,
    metal: Material,
    case: LoadCase,
    actions: Any,
    each: Any,
    required: Required,
) -> Iterator[Check]:
    """The group about its instantaneous centre, and prying where the pad is bolted down by its edge."""
    made, area = pad.bolts.strengths, pad.bolts.area
    group = BoltGroup(
        pad._turned(body), pad.bolts.diameter, pad.hole, area * made.shear, area * made.ultimate
    )  # fmt: skip
    force, moment, _ = pad.loads(body, actions)
    yield from centre_check(group, force[..., :2], moment[..., 2], case.name, required)
    yield from prying_checks(
        group, each[..., 2], pad.thickness, pad._each_beside_body(body),
        np.asarray(pad._edge())[..., None], np.asarray(pad._pitch())[..., None],
        metal.ultimate_strength, case.name, required,
    )  # fmt: skip


def _bending(
    pad: PadBase,
    body: Body,
    metal: Material,
    case: LoadCase,
    actions: Any,
    each: Any,
    required: Required,
) -> Iterator[Check]:
    """The pad as a strip that the bolts outside one side of the body bend about that side, and its pressed edge."""
    axial = np.abs(each[..., 2])
    pressed, at = pad._pressed(body, pad.loads(body, actions)[1])
    c, s = np.cos(body.clocking), np.sin(body.clocking)
    own = c * at[..., 0] + s * at[..., 1], c * at[..., 1] - s * at[..., 0]
    for side, index, across in (("y", 0, pad.height), ("z", 1, pad.width)):
        half = pad._body_half(body)[index]
        place = pad.places()[..., index]
        edge = [pressed * np.maximum(sign * own[index] - half, 0.0) for sign in (1.0, -1.0)]
        moments = [
            more
            + (axial * np.maximum(sign * place - np.asarray(half)[..., None], 0.0)).sum(axis=-1)
            for sign, more in zip((1.0, -1.0), edge, strict=True)
        ]
        stress = work(plate.flat_bending_stress, M=np.maximum(*moments), b=across, t=pad.thickness)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"pad bending along {side}, {kind}", "pad bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note="the whole pad's width as a strip from the side of the body, pushed or pulled by the "
                "bolts beyond it: common practice, no source",
            )  # fmt: skip


def pad_spots(pad: PadBase, site: OnBody, modes: Modes) -> Iterator[Spot]:
    """Where the pad itself tires: beside the body, and at the rims of its holes."""
    metal, t, r = site.metal, pad.thickness, site.body.root_fillet
    bent = [demand_of(modes, f"pad bending along {side}, yield") for side in "yz"]

    def most(case: LoadCase) -> Any:
        return np.maximum(*(plain(one(case)) for one in bent))

    root = flat_fillet(HIGH_STEP * t, t, r) if np.all(np.asarray(r) > 0.0) else SHARP
    yield Spot("pad, beside the body", metal, most, t, fatigue_factor(metal, root))
    d, room = pad.hole, np.minimum(2.0 * pad._edge(), pad._pitch())
    tapped = isinstance(pad.holes, TappedHoles)
    shear = demand_of(modes, "pad hole, bearing")
    deep = pad.thickness if tapped else pad._under_head()

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


def _sliding(pad: PadBase, metal: Material, case: LoadCase, each: Any) -> Iterator[Check]:
    """The friction under a load that comes and goes: a pad that slides in its holes shakes its bolts loose. A rare peak
    may slide it: the bolts then bear, and their shear and their holes are checked."""
    if not case.spectrum:
        return
    repeated = max(block.share for block in case.spectrum) * each
    faces = "steel on aluminium" if metal.family == "aluminium" else "steel on steel"
    loose = getattr(pad.holes, "gap", 0.0) > LOOSE * pad.bolts.diameter
    clamped = joint.clamp_force(
        pad.least_preload(metal)[..., None], np.maximum(repeated[..., 2], 0.0), 0.0
    )
    held = slots.slip_resistance(
        clamped, slots.face_friction(f"{faces}, machined, dry"), gamma=1.0,
        k_s=np.where(loose, slots.hole_factor("oversize"), slots.hole_factor("round"))[..., None],
    )  # fmt: skip
    yield check(
        "pad, slip under the repeated load", "slip", load_case=case.name, unit="-", capacity=1.0,
        demand=work(slots.slip_use, V=repeated[..., :2], F_s=held), required=AGAINST_SLIP,
        note="least preload after settling, at three quarters of the proof load; dry machined faces",
    )  # fmt: skip
