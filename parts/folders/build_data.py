"""The data of a build's page: plain lists and numbers, nothing of how it is shown.

`build_page_data` gives a document for JSON with these keys:

- `build`, `title`; `hardpoints`: name, place, tolerance, what it is stated from
- `parts`: for each its name, file, title, family, body, sides, frame (origin and axes), mass, governing check
  and factor, its `files` from the folder of all outputs on, what it takes by forms (`taken`) and how far that may
  be off (`taken_within_mm`), what it hangs on (`depends_on`), how far its load points lie from their hardpoints
  (`misfits_mm`), and its own free body in every load case (`balances`)
- `cases`: formula, factors with their sources, note, the forces on every body, the balance of each body, and every
  body and joint that it passes with the part that takes it there, or what is not modelled (`passes`); of each part
  the cases that reach it and by which joint (`reached_by`)
- `loads_end`: sentences on joints where loads end on what is not modelled
- `uses`: by part and load case, the largest share of what may be used that is used
- `rear_end`: None, or the curves through the travel (each a list over `travel_mm`), the positions at rest, the
  turnbuckle's table, the settings of the splines, the bar and its shear check, how far each rod end swings, bars
  for a wanted ride
- `checks`, `governing`, `ok`: of the build itself, by the schema of a part's checks
- `struck` as records; `interference`, `cannot_be_put_together`, `out_of_place`: sentences; `clearance_mm`
- `weights`, `bought`, `stock`
- `changes`: what moved against the run before
- `not_covered`, `cautions`
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.cautions import CAUTIONS
from parts.core.freebody import Acting, Balance, balance
from parts.core.loads import point_actions, resultant
from parts.inputs.document import dotted
from parts.report.document import build_checks, check_entry, number
from parts.vehicle.checks import allowed_swings, check_build, with_solids
from parts.vehicle.file.case_entries import SpectrumEntry
from parts.vehicle.file.forms import forms_in, points_of
from parts.vehicle.loads.build_case import BuildCase
from parts.vehicle.loads.ends import End
from parts.vehicle.rear_end.rear import Rear
from parts.vehicle.rear_end.wanted import wanted_data
from parts.vehicle.space.fit import misfits, out_of_place

if TYPE_CHECKING:
    from parts.core.part import Bought, Part
    from parts.folders.records import Change, Record
    from parts.making.stock import Order
    from parts.vehicle.build import Build
    from parts.vehicle.space.assembly import Weight
    from parts.vehicle.space.interference import Clash

NOT_COVERED = (
    "inertia of the parts themselves: bodies and links count as weightless",
    "friction in joints, and whatever holds a statically indeterminate frame",
    "roll and yaw of the head tube, beyond what the head tube itself is said to take",
    "sideways forces on bodies on a hinge, beyond what their hinge bears",
    "interference with frame, engine, wheels, hoses and the rider, none of which is modelled",
)


def build_page_data(
    build: Build,
    parts: Mapping[str, Part],
    records: Mapping[str, Record],
    struck: Sequence[Clash] = (),
    stuck: Sequence[str] = (),
    heavy: Sequence[Weight] = (),
    stock: Sequence[Order] = (),
    hardware: Sequence[Bought] = (),
    moved: Sequence[Change] = (),
) -> dict[str, Any]:
    """All that the page of a build shows.

    Args:
        build: the build.
        parts: its parts by name.
        records: of every part.
        struck: what comes too near.
        stuck: what cannot be put together.
        heavy: masses and centres of mass.
        stock: what to order.
        hardware: what to buy.
        moved: what moved against the run before.

    Returns:
        A document of plain values; see the head of this module.
    """
    checked = with_solids(check_build(build), struck, stuck)
    return {
        "build": build.name,
        "title": build.entry.title,
        "hardpoints": [
            {
                "name": one.name,
                "at_mm": number(one.at),
                "within_mm": number(one.within),
                "from": one.stated_from,
            }
            for one in build.hardpoints.values()
        ],
        "parts": [_part(build, name, part, records[name]) for name, part in parts.items()],
        "cases": [_case(one, build.ends[one.name]) for one in build.cases],
        "loads_end": list(checked.ends),
        "uses": {name: dict(kept.uses) for name, kept in records.items()},
        **build_checks(checked),
        "rear_end": None if build.rear is None else rear_data(build, build.rear),
        "clearance_mm": number(build.entry.clearance),
        "interference": [str(one) for one in struck],
        "struck": [asdict(one) for one in struck],
        "cannot_be_put_together": list(stuck),
        "out_of_place": out_of_place(build, parts),
        "weights": [
            {
                "instance": one.instance,
                "mass_kg": number(one.mass),
                "centre_mm": number(np.round(one.centre, 4)),
            }
            for one in heavy
        ],
        "stock": [
            {
                "part": one.part,
                "piece": one.piece,
                "quantity": one.quantity,
                "material": one.material,
                "stock": one.cut.stock.name,
                "length_mm": round(one.cut.length, 1),
                "width_mm": round(one.cut.width, 1),
                "waste": number(one.waste),
                "note": one.cut.note,
            }
            for one in stock
        ],
        "joints": [
            {"part": name, **one.entry()}
            for name, part in parts.items()
            for one in part.clearances()
        ],
        "bought": [
            {
                "designation": one.designation,
                "quantity": one.quantity,
                "fits": one.fits,
                "source": one.source,
            }
            for one in hardware
        ],
        "changes": [
            {"part": one.part, "what": one.what, "before": one.before, "after": one.after}
            for one in moved
        ],
        "not_covered": [*checked.uncovered, *NOT_COVERED],
        "cautions": list(CAUTIONS),
    }


def _part(build: Build, name: str, part: Part, kept: Record) -> dict[str, Any]:
    entry, here = build.entries[name], build.frame(name)
    return {
        "name": name,
        "file": entry.file,
        "title": part.title,
        "family": part.family,
        "body": entry.body,
        "sides": entry.sides,
        "material": part.metal.name,
        "frame": None
        if here is None
        else {"origin_mm": number(here.origin), "axes": number(here.axes)},
        "mass_kg": kept.mass,
        "governing": kept.governing,
        "factor": kept.factor,
        "required": kept.required,
        "ok": kept.ok,
        "files": sorted(kept.files),
        "taken": build.resolved(name)[1],
        "taken_within_mm": tolerances(build, name),
        "depends_on": list(build.references[name]),
        "misfits_mm": misfits(build, name, part),
        "balances": part_balances(name, part),
        "reached_by": [
            {"case": case, "joint": one.joint, "at": taker.point}
            for case, ends in build.ends.items()
            for one in ends
            for taker in one.takers
            if taker.part == name
        ],
    }


def tolerances(build: Build, name: str) -> dict[str, float]:
    """How far each value that a part takes from hardpoints may be off [mm]: their tolerances added up."""
    return {
        dotted(path): round(
            sum(build.hardpoints[at].within for at in dict.fromkeys(points_of(form))), 6
        )
        for path, form in forms_in(build.written(name).data)
        if any(True for _ in points_of(form))
    }


def part_balances(name: str, part: Part) -> list[dict[str, Any]]:
    """The free body of a part in each of its load cases: its loads, and what its family says holds it.

    A family that does not say so is held where its axes have their origin, unless its loads balance by themselves.
    """
    found = []
    for case in part.loads:
        loads = [
            Acting(one.at, np.asarray(one.force), np.asarray(one.moment), by=load.at)
            for one, load in zip(point_actions(case, part.points()), case.forces, strict=True)
        ]
        held = part.holding(case) or _at_origin(name, loads)
        found.append({"case": case.name, **_balance(balance(name, [*loads, *held]))})
    return found


def _at_origin(name: str, loads: Sequence[Acting]) -> list[Acting]:
    if balance(name, loads).ok:
        return []
    force, moment = resultant(loads, np.zeros(3))
    return [Acting(np.zeros(3), -force, -moment, by="what holds the part, at its origin")]


def _balance(one: Balance) -> dict[str, Any]:
    return {
        "body": one.body,
        "acting": [
            {
                "by": getattr(act, "by", ""),
                "at_mm": number(act.at),
                "force_N": number(act.force),
                "moment_Nmm": number(act.moment),
            }
            for act in one.acting
        ],
        "left_over_share": number(one.share),
        "ok": one.ok,
        "error": one.error,
    }


def _case(case: BuildCase, ends: Sequence[End]) -> dict[str, Any]:
    return {
        "name": case.name,
        "formula": case.formula,
        "factors": [
            {"name": f.name, "value": number(f.value), "source": f.source} for f in case.factors
        ],
        "note": case.note,
        "spectrum": _spectrum(case.spectrum),
        "passes": [
            {
                "body": one.body,
                "joint": one.joint,
                "by": one.by,
                "parts": [f"{taker.part}, {taker.point}" for taker in one.takers],
                "not_modelled": one.not_modelled,
            }
            for one in ends
        ],
        "forces": [
            {
                "on": one.body,
                "at": one.point,
                "by": one.by,
                "force_N": number(one.force),
                "moment_Nmm": number(one.moment),
            }
            for one in case.held
            if not one.mirrored
        ],
        "balances": [_balance(one) for one in case.balances],
    }


def swing_limits(build: Build, rear: Rear) -> dict[str, float]:
    """What the joints of the link may swing to one side, by the curve that it holds for [rad]."""
    curves = {
        rear.entry.pick_up: "joint_swing_at_swing_arm_deg",
        rear.entry.arm_end: "joint_swing_at_arm_deg",
    }
    return {curves[at]: one.swing for at, one in allowed_swings(build, rear).items()}


def _spectrum(one: SpectrumEntry | None) -> list[dict[str, Any]]:
    return [
        {
            "cycles": number(block.cycles),
            "share": number(block.share),
            "ratio": number(one.ratio),
            "what": block.what,
        }
        for block in (one.blocks if one is not None else ())
    ]


def rear_data(build: Build, rear: Rear) -> dict[str, Any]:
    """The rear end through the travel, as curves and tables."""
    whole, motion = rear.whole, rear.whole.motion
    damped = rear.damped
    curves = {
        "bar_twist_deg": np.degrees(whole.twist),
        "bar_torque_Nm": np.asarray(whole.torque) / 1000.0,
        "bar_shear_MPa": whole.shear,
        "motion_ratio_deg_per_mm": np.degrees(motion.ratio),
        "wheel_force_N": whole.wheel_force,
        "wheel_rate_N_per_mm": whole.wheel_rate,
        "wheel_rate_of_geometry_N_per_mm": whole.rate_of_geometry,
        "link_force_N": whole.link_force,
        "leverage": motion.leverage,
        "joint_swing_at_swing_arm_deg": np.degrees(motion.pick_up_swing),
        "joint_swing_at_arm_deg": np.degrees(motion.arm_swing),
    }
    if damped is not None:
        curves |= {"damper_length_mm": damped.length, "damper_ratio": damped.ratio}
    return {
        "travel_mm": number(motion.travel),
        "curves": {name: number(values) for name, values in curves.items()},
        "bar": {
            "diameter_mm": number(rear.entry.bar.diameter),
            "bore_mm": number(rear.entry.bar.bore),
            "length_mm": number(rear.entry.bar.length),
            "material": rear.entry.bar.material.name,
            "preset": rear.entry.bar.preset,
            "rate_Nm_per_deg": number(np.radians(rear.end.bar.rate) / 1000.0),
            "preload_deg": number(np.degrees(rear.end.preload)),
        },
        "shear_check": check_entry(rear.shear),
        "swing_limits_deg": {
            name: number(np.degrees(limit)) for name, limit in swing_limits(build, rear).items()
        },
        "positions_mm": {name: number(at) for name, at in rear.positions.items()},
        "at_rest": _rest(rear),
        "wanted": wanted_data(rear),
        "turnbuckle": _turnbuckle(rear),
        "clocking": [
            {
                "anchor_teeth": s.anchor,
                "arm_teeth": s.arm,
                "arm_angle_deg": number(np.degrees(s.angle)),
                "error_deg": number(np.degrees(s.error)),
            }
            for s in rear.clocked
        ],
    }


def _rest(rear: Rear) -> list[dict[str, Any]]:
    found = rear.rests
    if found is None:
        return []
    return [
        {
            "with_rider": bool(i),
            "load_N": number(found.load[i]),
            "sag_mm": number(found.travel[i]),
            "sag_share": number(found.share[i]),
            "wheel_rate_N_per_mm": number(found.wheel_rate[i]),
            "frequency_Hz": number(found.frequency[i]),
        }
        for i in range(2)
    ]


def _turnbuckle(rear: Rear) -> list[dict[str, Any]]:
    found = rear.adjusted
    if found is None:
        return []
    return [
        {
            "turns": number(found.turns[i]),
            "link_length_mm": number(found.link_length[i]),
            "sag_mm": number(found.sag[i, 1]),
            "sag_without_rider_mm": number(found.sag[i, 0]),
            "height_mm": number(found.height[i, 1]),
            "preload_deg": number(np.degrees(found.preload[i])),
            "bump_force_N": number(found.bump_force[i]),
            "bump_shear_MPa": number(found.bump_shear[i]),
        }
        for i in range(len(found.turns))
    ]
