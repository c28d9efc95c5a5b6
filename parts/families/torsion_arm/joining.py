"""Where an arm's blade meets its hub and its end: rules, and the step that tires."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.fatigue_places import Spot
from parts.core.feature import Actions
from parts.core.loads import LoadCase, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.families.torsion_arm.blade import Blade
from parts.families.torsion_arm.clamp_bore import ClampBore
from parts.families.torsion_arm.clevis_end import ClevisEnd
from parts.families.torsion_arm.eye import Eye
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.tapped_end import TappedEnd
from parts.features.section.notches import SHARP
from parts.standards.materials.materials import Material
from parts.strength.columns.lateral import rectangle_torsion_constant
from parts.strength.section.properties import properties


def joining_rules(hub: Hub, blade: Blade, end: Eye | ClevisEnd | TappedEnd) -> Iterator[Rule]:
    """Rules that hold the arm against its hub and its end."""
    arm = blade.arm
    long = np.sqrt(1.0 + blade.slope**2)
    flare = np.maximum(blade.root().rim[1], blade.straight(0.0) / long)
    yield at_least(
        "hub.flare", "hub.diameter", hub.diameter / 2.0 - blade.straight(0.0) / long, 0.5,
        "the arm is wider than the hub that it runs into", "make the hub larger, or the arm narrower",
    )  # fmt: skip
    yield at_least(
        "hub.root", "arm.root_fillet", np.sqrt(np.maximum(hub.diameter**2 / 4.0 - flare**2, 0.0)), 0.5,
        "the fillets would run round the hub", "make the root fillet smaller, or the arm narrower",
    )  # fmt: skip
    tall = _reach(blade, 0.0, blade.start, 0.0)
    yield at_least(
        "hub.cover", "hub.width", hub.width, 2.0 * tall,
        "the arm stands over the faces of the hub",
        "make the hub wider, or the arm thinner or less cranked",
    )  # fmt: skip
    tall = _reach(blade, blade.end, blade.reach, arm.crank)
    yield at_least(
        "end.cover", "end", end.height, 2.0 * tall,
        "the arm stands over the faces of its end",
        "make the end wider along the bar, or the arm thinner there",
    )  # fmt: skip
    ends = np.minimum(blade.thickness(0.0), blade.thickness(blade.reach + 3.0))
    yield at_least(
        "arm.wedge", "arm.end_thickness", ends, 1.0, "the arm tapers to nothing within its end",
        "taper its thickness less",
    )  # fmt: skip
    yield at_least(
        "arm.point", "arm.end_width", np.minimum(blade.straight(0.0), blade.straight(blade.reach)), 2.0,
        "the arm tapers to a point within its end", "taper its width less",
    )  # fmt: skip
    if isinstance(end, Eye):
        yield at_least(
            "end.flare", "end.diameter", end.rim - blade.straight(blade.reach) / long, 0.5,
            "the arm is wider than the eye that it runs into",
            "make the eye larger, or the arm narrower there",
        )  # fmt: skip
    else:
        yield at_least(
            "end.flare", "arm.end_fillet", end.width / 2.0, blade.tip().rim[1],
            "the arm with its end fillets is wider than the block that it runs into",
            "make the block wider, or the arm or its end fillets smaller",
        )  # fmt: skip
    if isinstance(hub.bore, ClampBore):
        room = np.pi / 2.0 - np.arcsin(np.minimum(flare / (hub.diameter / 2.0), 1.0))
        yield at_most(
            "clamp.turned", "hub.bore.clocking", np.abs(hub.bore.clocking), room,
            "the ears of the clamp would run into the arm", "turn the slit less", unit="deg",
        )  # fmt: skip


def _reach(blade: Blade, low: Any, high: Any, middle: Any) -> Any:
    """How far the blade stands off a plane z = middle between two x [mm]; straight, so its ends decide."""
    return np.maximum.reduce(
        np.broadcast_arrays(
            *(np.abs(blade.middle(x) - middle) + blade.thickness(x) / 2.0 for x in (low, high))
        )
    )


def step_at_hub(blade: Blade, metal: Material, edge_break: Any, rubbed: Actions) -> Spot:
    """The sharp step where the arm's two faces run into the wider hub, bent both ways and twisted."""
    section = properties(blade.outline(np.asarray(blade.start, float), edge_break))
    thick = blade.thickness(blade.start)
    place = np.stack(np.broadcast_arrays(blade.start, 0.0, blade.middle(blade.start)), axis=-1)

    def stress(case: LoadCase) -> Any:
        force, moment = (np.abs(one) for one in resultant(rubbed(case), place))
        pull = force[..., 0] / section.area
        bent = moment[..., 2] / section.Wel_z + moment[..., 1] / section.Wel_y
        J = rectangle_torsion_constant(*np.sort([thick, 2.0 * blade.straight(blade.start)], axis=0))
        return np.hypot(pull + bent, np.sqrt(3.0) * moment[..., 0] * thick / J)

    note = "sharp step from the arm's faces to the hub: three, common practice, no source"
    return Spot("arm's faces at the hub", metal, stress, thick, SHARP.K_t, note=note)
