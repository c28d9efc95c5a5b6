"""The other way round: bars from stock that would give a rear end the ride that its build wants."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from parts.standards.materials.materials import Material, material
from parts.standards.stock.stock import Stock, listed
from parts.vehicle.rear_end.bars import Wanted, bar_for
from parts.vehicle.rear_end.linkage import Linkage, LinkageError
from parts.vehicle.rear_end.rear import Rear, no_range
from parts.vehicle.rear_end.suspension import Response

MOST = 6
"""Rows of each table."""


class Exact(NamedTuple):
    """A bar of stock for a linkage: its active length [mm], preload as drawn [rad], what it does through the travel as
    drawn, its worst shear as the build would check it [MPa], and its mass [kg]."""

    stock: Stock
    length: float
    preload: float
    whole: Response
    shear: float
    mass: float


def wanted_of(rear: Rear) -> Wanted | None:
    """What the build wants of its rear end; None where it does not say.

    Raises:
        LinkageError: the ride makes no sense, or there is no vehicle to carry.
    """
    one = rear.entry.wanted
    if one is None:
        return None
    if rear.vehicle is None:
        raise LinkageError("a wanted ride needs masses; state the `vehicle:`")
    return Wanted(one.wheel_rate, float(rear.loads[1]), one.sag, rear.entry.travel)


def bars(rear: Rear, linkage: Linkage | None = None) -> tuple[Exact, ...]:
    """Bars for a linkage that give rate and sag exactly and hold, the lightest first.

    Args:
        rear: a rear end whose build wants a ride.
        linkage: another one in its place; the one as drawn where left out.

    Returns:
        Those of the stock sizes whose length has room and which the build would find to hold: with another linkage
        the link is as long as drawn, else it takes its range.

    Raises:
        LinkageError: the linkage cannot give that ride.
    """
    entry, wanted = rear.entry.wanted, wanted_of(rear)
    assert entry is not None and wanted is not None
    metal = _metal(rear)
    found = []
    for stock in listed("round bar"):
        end = bar_for(linkage or rear.end.linkage, wanted, float(stock.width_mm), metal.G)
        length = float(end.bar.length)
        if not entry.shortest <= length <= entry.longest:
            continue
        own = (
            rear.with_bar(end)
            if linkage is None
            else replace(rear.with_bar(end), link_range=no_range)
        )
        wound = np.all(np.asarray(own.whole.twist) > 0.0)
        if wound and own.greatest_shear.ok and (not own.entry.bar.preset or own.least_wound.ok):
            mass, shear = (
                float(end.bar.mass(metal.density)),
                float(np.asarray(own.greatest_shear.demand)),
            )
            found.append(Exact(stock, length, float(end.preload), own.whole, shear, mass))
    return tuple(sorted(found, key=lambda one: one.mass))


def wanted_data(rear: Rear) -> dict[str, Any] | None:
    """Both tables and the curves, as plain values; None where the build wants nothing.

    Args:
        rear: the rear end.

    Returns:
        What is wanted, `exact` bars for the linkage as drawn, `proposals` with other arms, and what is in the way.
    """
    wanted, entry = wanted_of(rear), rear.entry.wanted
    if wanted is None or entry is None:
        return None
    said: list[str] = []
    exact: tuple[Exact, ...] = ()
    others: list[dict[str, Any]] = []
    try:
        exact = bars(rear)
        if not exact:
            said.append(
                "no stock size gives that ride with the arm as drawn, in that length and within the stress"
            )
        others = list(_others(rear, said))
    except LinkageError as error:
        said.append(str(error))
    return {
        "wheel_rate_N_per_mm": wanted.wheel_rate,
        "sag_mm": wanted.sag,
        "load_N": round(wanted.load, 3),
        "allowable_MPa": round(float(np.asarray(rear.shear.capacity)), 3),
        "exact": [_exact(one) for one in exact[:MOST]],
        "proposals": others[:MOST],
        "said": said,
    }


def _exact(one: Exact) -> dict[str, Any]:
    whole = one.whole
    return {
        "stock": one.stock.name,
        "diameter_mm": float(one.stock.width_mm),
        "length_mm": round(one.length, 2),
        "preload_deg": round(float(np.degrees(one.preload)), 4),
        "mass_kg": round(one.mass, 5),
        "bump_shear_MPa": round(one.shear, 3),
        "wheel_rate_N_per_mm": np.round(whole.wheel_rate, 5).tolist(),
        "bar_shear_MPa": np.round(whole.shear, 4).tolist(),
    }


def _others(rear: Rear, said: list[str]) -> Iterator[dict[str, Any]]:
    """Bars with other lengths of the arm, pick-up and bar where they are and the arm's direction as drawn."""
    entry, drawn = rear.entry.wanted, rear.end.linkage
    if entry is None or not entry.arms:
        return
    foot = drawn.torsion_bar.foot(drawn.arm_end)
    out = (np.asarray(drawn.arm_end) - foot) / float(drawn.arm_length)
    found: list[tuple[float, Exact]] = []
    for arm in entry.arms:
        try:
            found += [(arm, one) for one in bars(rear, replace(drawn, arm_end=foot + arm * out))]
        except LinkageError as error:
            said.append(f"an arm of {arm:g} mm: {error}")
    if not found:
        allowed = float(np.asarray(rear.shear.capacity))
        said.append(
            f"no stock size gives it with another arm, in that length and within {allowed:.0f} MPa"
        )
    for arm, one in sorted(found, key=lambda pair: pair[1].mass):
        whole = one.whole
        yield {
            "stock": one.stock.name,
            "arm_mm": arm,
            "length_mm": round(one.length, 2),
            "wheel_rate_N_per_mm": round(entry.wheel_rate, 4),
            "preload_deg": round(float(np.degrees(one.preload)), 3),
            "bump_shear_MPa": round(one.shear, 2),
            "link_force_N": round(float(np.max(np.abs(whole.link_force))), 1),
            "mass_kg": round(one.mass, 4),
        }


def _metal(rear: Rear) -> Material:
    bar = rear.entry.bar
    return material(bar.material.name, thickness_mm=bar.diameter)
