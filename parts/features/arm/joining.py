"""Where an arm's blade meets its hub and its end: rules, and the step that tires."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple, Protocol

import numpy as np

from parts.core.fatigue_places import Spot
from parts.core.feature import Actions
from parts.core.loads import LoadCase, resultant
from parts.core.rules import Rule, at_least
from parts.features.arm.blade import Blade
from parts.features.section.notches import SHARP
from parts.standards.materials.materials import Material
from parts.strength.columns.lateral import rectangle_torsion_constant
from parts.strength.section.properties import properties


class AtEnd(Protocol):
    """What the blade asks of an end: its height along z, its radius where it is round, else its width [mm]."""

    @property
    def height(self) -> Any: ...

    @property
    def rim(self) -> Any: ...

    @property
    def width(self) -> Any: ...


class Fields(NamedTuple):
    """Dotted paths of hub, arm and end in the file, and what its hub is called."""

    hub: str = "hub"
    arm: str = "arm"
    end: str = "end"
    called: str = "hub"


USUAL = Fields()


def joining_rules(
    blade: Blade, hub_width: Any, end: AtEnd, fields: Fields = USUAL
) -> Iterator[Rule]:
    """Rules that hold the arm against its hub and its end.

    Args:
        blade: the arm's blade.
        hub_width: of the hub along its axis [mm].
        end: its end.
        fields: where they stand in the file.

    Returns:
        The rules.
    """
    hub, at_arm, at_end, called = fields
    arm = blade.arm
    long = np.sqrt(1.0 + blade.slope**2)
    flare = np.maximum(blade.root().rim[1], blade.straight(0.0) / long)
    yield at_least(
        "hub.flare", f"{hub}.diameter", blade.hub - blade.straight(0.0) / long, 0.5,
        f"the arm is wider than the {called} that it runs into", f"make the {called} larger, or the arm narrower",
    )  # fmt: skip
    yield at_least(
        "hub.root", f"{at_arm}.root_fillet", np.sqrt(np.maximum(blade.hub**2 - flare**2, 0.0)), 0.5,
        f"the fillets would run round the {called}", "make the root fillet smaller, or the arm narrower",
    )  # fmt: skip
    tall = _reach(blade, 0.0, blade.start, 0.0)
    yield at_least(
        "hub.cover", f"{hub}.width", hub_width, 2.0 * tall,
        f"the arm stands over the faces of the {called}",
        f"make the {called} wider, or the arm thinner or less cranked",
    )  # fmt: skip
    tall = _reach(blade, blade.end, blade.reach, arm.crank)
    yield at_least(
        "end.cover", at_end, end.height, 2.0 * tall,
        "the arm stands over the faces of its end",
        "make the end wider along the bar, or the arm thinner there",
    )  # fmt: skip
    ends = np.minimum(blade.thickness(0.0), blade.thickness(blade.reach + 3.0))
    yield at_least(
        "arm.wedge", f"{at_arm}.end_thickness", ends, 1.0, "the arm tapers to nothing within its end",
        "taper its thickness less",
    )  # fmt: skip
    yield at_least(
        "arm.point", f"{at_arm}.end_width", np.minimum(blade.straight(0.0), blade.straight(blade.reach)), 2.0,
        "the arm tapers to a point within its end", "taper its width less",
    )  # fmt: skip
    if np.any(np.greater(end.rim, 0.0)):
        yield at_least(
            "end.flare", f"{at_end}.diameter", end.rim - blade.straight(blade.reach) / long, 0.5,
            "the arm is wider than the eye that it runs into",
            "make the eye larger, or the arm narrower there",
        )  # fmt: skip
    else:
        yield at_least(
            "end.flare", f"{at_arm}.end_fillet", end.width / 2.0, blade.tip().rim[1],
            "the arm with its end fillets is wider than the block that it runs into",
            "make the block wider, or the arm or its end fillets smaller",
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
