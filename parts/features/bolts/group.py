"""The bolts of a pad by second methods: the group about its instantaneous centre, and prying of the flange."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.strength.bolted import group as boltgroup
from parts.strength.bolted import plate
from parts.strength.method import work

TWIST_ALONE = 1e-6
"""A group that is only twisted counts as pushed by this share of the couple's own force, far off the middle."""


@dataclass(frozen=True)
class Group:
    """The bolts as they stand on the pad: places about the middle, shape (..., n, 2) [mm], diameter and hole
    [mm], and strengths of one bolt in shear and in tension [N]."""

    places: Any
    diameter: Any
    hole: Any
    shear: Any
    tension: Any


def centre_check(
    group: Group, force: Any, twist: Any, case: str, required: Required, name: str = "pad bolts"
) -> Iterator[Check]:
    """The group in shear, each bolt yielding as the group turns about its instantaneous centre.

    Args:
        group: the bolts.
        force: in the plane of the pad, shape (..., 2) [N].
        twist: about the middle of the pad [N*mm].
        case: name of the load case.
        required: the factors asked for.
        name: what the bolts are.

    Returns:
        One check.
    """
    reach = np.linalg.norm(group.places, axis=-1).max(axis=-1)
    least = TWIST_ALONE * np.abs(twist) / np.maximum(reach, 1e-9)
    size = np.hypot(force[..., 0], force[..., 1])
    acts = np.maximum(np.maximum(size, least), 1e-12)
    ux = np.where(size > least, force[..., 0] / np.maximum(size, 1e-12), 1.0)
    uy = np.where(size > least, force[..., 1] / np.maximum(size, 1e-12), 0.0)
    arm = np.asarray(twist, float) / acts
    # A force off the middle by the arm, square to itself, twists as much.
    C = work(
        boltgroup.instantaneous_centre_coefficient, xy=group.places, Fx=ux, Fy=uy, x=arm * uy,
        y=-arm * ux,
    )  # fmt: skip
    yield check(
        f"{name}, about their instantaneous centre", "bolt group", load_case=case, unit="-",
        demand=np.where(size + np.abs(twist) > 0.0, acts / group.shear, 0.0)[()], capacity=C,
        required=required.on_ultimate,
        note="force over one bolt's shear strength, against how many bolts the group is worth; the elastic "
        "method beside it is the safer for bolts other than those that the curve was measured on",
    )  # fmt: skip


def prying_checks(
    group: Group, pull: Any, thickness: Any, inside: Any, edge: Any, pitch: Any, F_u: Any, case: str,
    required: Required, name: str = "pad bolt",
) -> Iterator[Check]:  # fmt: skip
    """The pad as the flange of a tee that its bolts pry on.

    Args:
        group: the bolts.
        pull: on each bolt, shape (..., n) [N]; a push counts as none.
        thickness: of the pad [mm].
        inside: from the middle of each bolt to the body, shape (..., n) [mm].
        edge: from the middle of each bolt to the edge of the pad [mm].
        pitch: length of the pad for each bolt [mm]; no more than twice `inside` is counted.
        F_u: tensile strength of the pad [MPa].
        case: name of the load case.
        required: the factors asked for.
        name: what a bolt is called.

    Returns:
        One check, of the bolt that uses most.
    """
    d, hole, t = (np.asarray(v, float)[..., None] for v in (group.diameter, group.hole, thickness))
    b, F = np.maximum(inside, d / 2.0 + 1e-6), np.asarray(F_u, float)[..., None]
    size = {"b": b, "a": edge, "d": d, "d_h": hole,
            "p": np.maximum(np.minimum(pitch, 2.0 * b), hole * 1.01)}  # fmt: skip
    B = np.asarray(group.tension, float)[..., None] + 0.0 * b
    load = plate.tee_capacity(B=B, t=t, F_u=F, **size)
    pull = np.maximum(pull, 0.0)
    worst = np.argmax(pull / load, axis=-1)[..., None]

    def at(value: Any) -> Any:
        whole = np.broadcast_to(value, np.broadcast_shapes(np.shape(value), pull.shape))
        return np.take_along_axis(whole, worst, axis=-1)[..., 0]

    yield check(
        f"{name}, pull with prying", "prying", load_case=case, unit="N", demand=at(pull),
        capacity=work(
            plate.tee_capacity, B=group.tension, t=thickness, F_u=F_u,
            **{name: at(value) for name, value in size.items()},
        ),
        required=required.on_ultimate,
        note="the bolt that uses most; the pad as the flange of a tee, its stem the side of the body",
    )  # fmt: skip
