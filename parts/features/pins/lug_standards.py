"""A lug by two more published methods: the pinned plate of ASME BTH-1, and the Air Force's ultimate loads.

They stand beside the classical planes of `parts.features.pins.lug`, each as a check of its own with its source:
where two of them differ, the lower one is the one to build by.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import lug, standards

DESIGN_FACTOR = 2.0
"""N_d of ASME BTH-1 for design category A: loads that are known and conditions that do not vary; 3 is
category B. From memory of 3-1.3."""
PLANE = np.radians(55.0)
CATEGORY = (
    f"required: BTH-1's own N_d of {DESIGN_FACTOR:g} (category A), times {standards.BTH_FRACTURE:g} for "
    "fracture, or the part's factor where that is larger"
)
BEARING = f"required: BTH-1's own N_d of {DESIGN_FACTOR:g} (category A), or the part's factor where larger"


class PinnedPlate(NamedTuple):
    """One plate on a pin. Lengths in mm.

    `end` is from the centre of the bore to the end, `at_plane` the same where the pin shears out, both as
    straight edges there. `least` is the least metal around the bore. `braced` says that the plate is kept
    from dishing, as a tongue between two ears; `turning` that the pin turns in it under load.
    """

    width: Any
    bore: Any
    pin: Any
    thickness: Any
    end: Any
    at_plane: Any
    least: Any
    radius: Any = np.inf
    braced: bool = False
    turning: bool = False
    note: str = ""


def shear_plane_offset(pin: Any, bore: Any) -> Any:
    """How far off the middle BTH-1's shear planes leave the pin [mm]."""
    pin = np.asarray(pin, float)
    return 0.5 * pin * np.sin(PLANE * pin / np.asarray(bore, float))


def standard_modes(
    one: PinnedPlate,
    name: str,
    material: Material,
    case: str,
    pull: Any,
    bears: Any,
    required: Required,
) -> Iterator[Check]:
    """Tension, fracture, shear and bearing by ASME BTH-1.

    Args:
        one: the plate.
        name: prefix of the checks' names.
        material: what it is made of.
        case: name of the load case.
        pull: toward its end [N].
        bears: square to the pin, whichever way [N].
        required: the factors asked for.

    Returns:
        Four checks.
    """
    F_u, F_y, t, bore = (
        material.ultimate_strength,
        material.yield_strength,
        one.thickness,
        one.bore,
    )
    b_e = (np.asarray(one.width, float) - bore) / 2.0
    C_r = work(standards.clearance_factor, D_p=one.pin, D_h=bore)
    wide = work(
        standards.effective_width,
        b_e=b_e,
        t=t,
        D_h=bore,
        F_u=F_u,
        F_y=F_y,
        braced=float(one.braced),
    )
    planes = work(standards.shear_area, R=one.at_plane, D_p=one.pin, D_h=bore, t=t, r=one.radius)
    loads = (
        ("tension", work(standards.tension_load, t=t, b_eff=wide, C_r=C_r, F_u=F_u)),
        ("splitting", work(standards.fracture_load, R=one.end, b_e=b_e, t=t, D_h=bore, C_r=C_r, F_u=F_u)),
        ("shear-out", work(standards.shear_load, A_v=planes, F_u=F_u)),
    )  # fmt: skip
    note = "; ".join(text for text in (CATEGORY, one.note) if text)
    on = partial(check, load_case=case, unit="N")
    fracture = np.maximum(standards.BTH_FRACTURE * DESIGN_FACTOR, required.on_ultimate)[()]
    for mode, load in loads:
        yield on(
            f"{name} {mode}, BTH-1", "pinned plate", demand=pull, capacity=load, required=fracture, note=note
        )  # fmt: skip
    yield on(
        f"{name} bearing, BTH-1", "pinned plate", demand=bears,
        capacity=work(
            standards.bearing_load, D_p=one.pin, t=t, F_y=F_y, turning=float(one.turning)
        ),
        required=np.maximum(DESIGN_FACTOR, required.on_yield)[()], note=BEARING,
    )  # fmt: skip


def manual_modes(
    one: PinnedPlate,
    name: str,
    material: Material,
    case: str,
    force: Any,
    pull: Any,
    required: Required,
) -> Iterator[Check]:
    """The Air Force's ultimate loads along the lug, across it, and slanting.

    Args:
        one: the plate; its planes are those at 40 degrees.
        name: prefix of the checks' names.
        material: what it is made of.
        case: name of the load case.
        force: along and across the lug, shape (..., 2 or more) [N].
        pull: toward its end [N].
        required: the factors asked for.

    Returns:
        Three checks.
    """
    along = work(
        lug.axial_load, w=one.width, D_h=one.bore, R=one.at_plane, t=one.thickness, r=one.radius,
        F_tu=material.ultimate_strength, F_ty=material.yield_strength, F_su=material.shear_ultimate,
    )  # fmt: skip
    across = work(
        lug.transverse_load,
        h=one.least,
        D_h=one.bore,
        t=one.thickness,
        F_ty=material.yield_strength,
    )
    slant = np.arctan2(np.abs(force[..., 1]), np.abs(force[..., 0]))
    both = work(lug.oblique_load, P_au=along, P_tu=across, alpha=slant)
    on = partial(check, load_case=case, unit="N", required=required.on_ultimate)
    for where, demand, capacity, note in (
        ("along", pull, along, "a pull toward the end"),
        ("across", np.abs(force[..., 1]), across, ""),
        ("slanting", np.hypot(force[..., 0], force[..., 1]), both,
         "a push is taken like a pull of its size"),
    ):  # fmt: skip
        yield on(
            f"{name} lug {where}, Air Force", "lug", demand=demand, capacity=capacity, note=note
        )
