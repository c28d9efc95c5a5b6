"""The one bolt that clamps a shouldered piece: what can fail of it, and its tension."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.ways import Kind
from parts.strength.bolted import group
from parts.strength.method import Worked, work

ELSEWHERE = {"head sinks in": "its head bears on what it holds, which is no part of this"}


def bolt_kind(name: str, head: bool) -> Kind:
    """What can fail of a bolt; whether its head or shoulder bears on the part."""
    return Kind("bolt in a joint", name, left_out={} if head else ELSEWHERE)


def clamped_tension(force: Any, moment: Any, shoulder: Any) -> Worked:
    """Pull of one bolt that clamps a shouldered piece: the shoulder pivots on its rim.

    Args:
        force: force at the face [N], shape (..., 3); z pulls off the face.
        moment: moment about the middle of the face [N*mm], shape (..., 3).
        shoulder: diameter of the shoulder [mm].

    Returns:
        The tension [N], as the worked method.
    """
    bend = np.hypot(moment[..., 0], moment[..., 1])
    pull = np.maximum(force[..., 2], 0.0)
    # A pull along the axis on a face that pivots at its rim has the arm of the rim too.
    total = bend + pull * np.asarray(shoulder, float) / 2.0
    arm = np.asarray(shoulder, float)[..., None] / 2.0
    return work(group.tension_about_edge, h=arm, M=total)


def of_one(worked: Worked) -> Any:
    """The tension of the only bolt of a group [N]."""
    return np.asarray(worked.value)[..., 0]
