"""The torsion-bar rear end on the page of a build: curves over the wheel's travel, and the tables to set it by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from parts.core.figures import figure
from parts.inputs.units import MM_PER_INCH, MPA_PER_KSI, N_PER_LBF
from parts.report.page.curves import Chart, Curve, chart_figure
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.sheets import verdict

LBF_IN_PER_NM = 1.0 / (N_PER_LBF * MM_PER_INCH / 1000.0)
ROWS = 12
"""Rows of the table of all curves, but one."""
Rear = Mapping[str, Any]


def rear_end(rear: Rear) -> Html:
    """Lay out the rear end.

    Args:
        rear: what `parts.folders.build_data.rear_data` gives.

    Returns:
        What stands under the section's head.
    """
    travel = np.asarray(rear["travel_mm"], float)
    charts = [
        chart_figure(one, travel, _marked(rear), number)
        for number, one in enumerate(_charts(rear), 1)
    ]
    return joined(
        _bar(rear),
        _at_rest(rear),
        tag("h3", "Through the travel"),
        tag("div", *charts, class_="charts"),
        tag("details", tag("summary", "The same as numbers"), _numbers(rear, travel)),
        _turnbuckle(rear),
        _clocking(rear),
        _wanted(rear, travel, len(charts)),
    )


def _values(rear: Rear, name: str) -> np.ndarray:
    return np.asarray([np.nan if v is None else v for v in rear["curves"][name]], float)


def _marked(rear: Rear) -> dict[str, float]:
    return {
        ("with rider" if one["with_rider"] else "machine alone"): float(one["sag_mm"])
        for one in rear["at_rest"]
    }


def _charts(rear: Rear) -> Iterator[Chart]:
    def curve(name: str, key: str) -> Curve:
        return Curve(name, _values(rear, key))

    shear, limits = rear["shear_check"], rear["swing_limits_deg"]
    yield Chart(
        "Wheel rate", "N/mm",
        [curve("wheel rate", "wheel_rate_N_per_mm"),
         curve("share of the changing geometry", "wheel_rate_of_geometry_N_per_mm")],
        {}, "lbf/in", MM_PER_INCH / N_PER_LBF,
    )  # fmt: skip
    yield Chart(
        "Wheel force", "N", [curve("wheel force", "wheel_force_N")], {}, "lbf", 1.0 / N_PER_LBF,
        "What the bar carries at the wheel, without the unsprung mass.",
    )  # fmt: skip
    yield Chart(
        "Shear stress of the bar", "MPa", [curve("shear at the surface", "bar_shear_MPa")],
        {"allowable": float(shear["capacity"])}, "ksi", 1.0 / MPA_PER_KSI,
        f"Allowable by {shear['source']}.",
    )  # fmt: skip
    yield Chart(
        "Force along the link", "N", [curve("pull; below nothing it is pushed", "link_force_N")],
        {}, "lbf", 1.0 / N_PER_LBF,
    )  # fmt: skip
    yield Chart(
        "Motion ratio", "deg/mm",
        [curve("turn of the bar for each mm of the wheel", "motion_ratio_deg_per_mm")],
        {}, "deg/in", MM_PER_INCH,
    )  # fmt: skip
    swing = {
        "joint_swing_at_swing_arm_deg": "at the swing arm",
        "joint_swing_at_arm_deg": "at the torsion arm",
    }
    yield Chart(
        "Swing of the rod ends", "deg", [curve(said, key) for key, said in swing.items()],
        _together({key: float(limit) for key, limit in limits.items()}, swing),
        note="To one side, eyes square on their bolts as drawn and jam nuts locked there."
        + ("" if limits else " No part of this build states what its rod ends allow."),
    )  # fmt: skip
    if "damper_length_mm" in rear["curves"]:
        yield Chart(
            "Length of the damper", "mm", [curve("between its mounts", "damper_length_mm")],
            {}, "in", 1.0 / MM_PER_INCH,
        )  # fmt: skip


def _together(limits: Mapping[str, float], names: Mapping[str, str]) -> dict[str, float]:
    """What the joints allow, once where both allow the same."""
    if len(set(limits.values())) == 1 and len(limits) == len(names):
        return {"both allow": next(iter(limits.values()))}
    return {f"allowed {names[key]}": limit for key, limit in limits.items()}


def _bar(rear: Rear) -> Html:
    bar, shear = rear["bar"], rear["shear_check"]
    bore = f", bore {figure(bar['bore_mm'])} mm" if bar["bore_mm"] else ""
    size = (
        f"{figure(bar['diameter_mm'])} mm ({bar['diameter_mm'] / MM_PER_INCH:.3f} in){bore}, "
        f"{figure(bar['length_mm'])} mm ({bar['length_mm'] / MM_PER_INCH:.2f} in) that twist"
    )
    rate = bar["rate_Nm_per_deg"]
    stress = (
        f"{figure(shear['demand'])} of {figure(shear['capacity'])} MPa, factor {figure(shear['factor'])} of "
        f"{figure(shear['required'])} required: "
    )
    pairs: list[tuple[str, Any]] = [
        ("torsion bar", size),
        ("material", bar["material"] + (", preset" if bar["preset"] else ", not preset")),
        ("rate", f"{figure(rate)} N·m/deg ({figure(rate * LBF_IN_PER_NM)} lbf·in/deg)"),
        ("preload as drawn", f"{figure(bar['preload_deg'])} deg of twist"),
        ("shear at its worst", joined(stress, verdict(shear["ok"]))),
        ("how", shear["note"]),
    ]
    return tag(
        "dl", *[joined(tag("dt", name), tag("dd", said)) for name, said in pairs], class_="terms"
    )


def _at_rest(rear: Rear) -> Html | None:
    rows = [
        [
            "rider seated" if one["with_rider"] else "machine alone",
            _both(one["load_N"], 1.0 / N_PER_LBF),
            f"{one['sag_mm']:.1f} ({one['sag_mm'] / MM_PER_INCH:.2f})",
            f"{100.0 * one['sag_share']:.0f} %",
            _both(one["wheel_rate_N_per_mm"], MM_PER_INCH / N_PER_LBF),
            "on its stop" if one["frequency_Hz"] is None else f"{one['frequency_Hz']:.2f}",
        ]
        for one in rear["at_rest"]
    ]
    head = ["at rest", "sprung load, N (lbf)", "sag, mm (in)", "of the travel",
            "wheel rate, N/mm (lbf/in)", "natural frequency, Hz"]  # fmt: skip
    if not rows:
        return None
    return table("The wheel at rest", head, rows, numbers=(1, 2, 3, 4, 5))


def _both(value: Any, many: float) -> str:
    """A value, and the same in the other unit behind it."""
    return "none" if value is None else f"{figure(value)} ({figure(value * many)})"


def _numbers(rear: Rear, travel: np.ndarray) -> Html:
    kept = np.unique(np.round(np.linspace(0, len(travel) - 1, ROWS)).astype(int))
    head = {
        "wheel_force_N": "wheel force, N",
        "wheel_rate_N_per_mm": "wheel rate, N/mm",
        "motion_ratio_deg_per_mm": "motion ratio, deg/mm",
        "leverage": "lever over arm",
        "bar_twist_deg": "bar twist, deg",
        "bar_torque_Nm": "bar torque, N·m",
        "bar_shear_MPa": "bar shear, MPa",
        "link_force_N": "link force, N",
        "joint_swing_at_swing_arm_deg": "swing at swing arm, deg",
        "joint_swing_at_arm_deg": "swing at arm, deg",
        "damper_length_mm": "damper, mm",
        "damper_ratio": "damper over wheel",
    }
    shown = {name: said for name, said in head.items() if name in rear["curves"]}
    rows = [
        [f"{travel[i]:.1f}", f"{travel[i] / MM_PER_INCH:.2f}",
         *(figure(_values(rear, name)[i]) for name in shown)]
        for i in kept
    ]  # fmt: skip
    return table(
        "Through the travel", ["travel, mm", "in", *shown.values()], rows,
        numbers=tuple(range(len(shown) + 2)),
    )  # fmt: skip


def _turnbuckle(rear: Rear) -> Html | None:
    rows = [
        [
            f"{one['turns']:+.0f}" if one["turns"] else "0, as drawn",
            f"{one['link_length_mm']:.2f} ({one['link_length_mm'] / MM_PER_INCH:.3f})",
            f"{one['sag_mm']:.1f}",
            f"{one['sag_without_rider_mm']:.1f}",
            f"{one['height_mm']:+.1f} ({one['height_mm'] / MM_PER_INCH:+.2f})",
            figure(one["preload_deg"]),
            figure(one["bump_force_N"]),
            figure(one["bump_shear_MPa"]),
        ]
        for one in rear["turnbuckle"]
    ]
    if not rows:
        return None
    head = ["turns", "link, mm (in)", "sag, rider", "sag, alone", "higher by, mm (in)", "preload, deg",
            "bump force, N", "bump shear, MPa"]  # fmt: skip
    return joined(
        tag("h3", "Ride height by the turnbuckle"),
        table("What whole turns of the turnbuckle do", head, rows, numbers=tuple(range(8))),
        tag(
            "p",
            "A longer link counts positive. Sag in mm of wheel travel; preload is the bar's twist at full "
            "droop, force that of the bar at the wheel at full bump.",
            class_="what",
        ),
    )


def _clocking(rear: Rear) -> Html | None:
    rows = [
        [f"{one['anchor_teeth']:+d}", f"{one['arm_teeth']:+d}", f"{one['arm_angle_deg']:+.3f}",
         f"{one['error_deg']:+.3f}"]
        for one in rear["clocking"]
    ]  # fmt: skip
    if not rows:
        return None
    head = ["teeth at the anchor", "teeth at the arm", "turns the arm by, deg",
            "off the wanted angle by, deg"]  # fmt: skip
    return joined(
        tag("h3", "Preload by the splines"),
        table("Nearest ways to clock the bar, from a bar that is free as drawn", head, rows,
              numbers=(0, 1, 2, 3)),
        tag("p", "Teeth count right-handed about the bar's direction, which points to the left of the machine."),
    )  # fmt: skip


def _wanted(rear: Rear, travel: np.ndarray, before: int) -> Html | None:
    """Bars of stock for a wanted ride: those for the linkage as drawn with their curves, and other arms."""
    one = rear["wanted"]
    if one is None:
        return None
    asked = (
        f"Wanted: {figure(one['wheel_rate_N_per_mm'])} N/mm "
        f"({figure(one['wheel_rate_N_per_mm'] * MM_PER_INCH / N_PER_LBF)} lbf/in) and {figure(one['sag_mm'])} mm "
        f"({one['sag_mm'] / MM_PER_INCH:.2f} in) of sag under {figure(one['load_N'])} N with the rider. "
        "The shear is the worst over the link's range and the tolerance of the points, the curves are as drawn. It is "
        "held against the allowable of static service alone: repeated load is checked once a bar stands in the build."
    )
    exact = [
        [bar["stock"], f"{bar['length_mm']:.1f} ({bar['length_mm'] / MM_PER_INCH:.2f})",
         f"{bar['preload_deg']:.2f}", f"{bar['bump_shear_MPa']:.0f}", f"{bar['mass_kg']:.3f}"]
        for bar in one["exact"]
    ]  # fmt: skip
    head = ["bar", "active length, mm (in)", "preload as drawn, deg", "greatest shear, MPa", "kg"]
    others = [
        [bar["stock"], figure(bar["arm_mm"]), figure(bar["length_mm"]), f"{bar['wheel_rate_N_per_mm']:.2f}",
         f"{bar['preload_deg']:.2f}", f"{bar['bump_shear_MPa']:.0f}", figure(bar["link_force_N"]),
         f"{bar['mass_kg']:.3f}"]
        for bar in one["proposals"]
    ]  # fmt: skip
    more = ["bar", "arm, mm", "active length, mm", "rate, N/mm", "preload, deg", "greatest shear, MPa",
            "greatest link force as drawn, N", "kg"]  # fmt: skip
    return joined(
        tag("h3", "Bars for a wanted ride"),
        tag("p", asked, *[f" {said[:1].upper()}{said[1:]}." for said in one["said"]]),
        table("Bars of stock for the linkage as drawn, the lightest first", head, exact, numbers=(1, 2, 3, 4))
        if exact
        else None,
        tag("div", *_wanted_charts(one, travel, before), class_="charts") if exact else None,
        table("Bars with other arms, pick-up and bar where they are, the lightest first", more, others,
              numbers=tuple(range(1, 8)))
        if others
        else None,
    )  # fmt: skip


def _wanted_charts(one: Rear, travel: np.ndarray, before: int) -> list[Html]:
    stress = [Curve(bar["stock"], np.asarray(bar["bar_shear_MPa"], float)) for bar in one["exact"]]
    marked = {"wanted sag": float(one["sag_mm"])}
    # All of them are equally stiff, for the linkage is the same.
    rate = Curve(
        "with any of these bars", np.asarray(one["exact"][0]["wheel_rate_N_per_mm"], float)
    )
    charts = (
        Chart("Wheel rate with these bars", "N/mm", [rate], {}, "lbf/in", MM_PER_INCH / N_PER_LBF),
        Chart("Shear stress of these bars", "MPa", stress,
              {"allowable": float(one["allowable_MPa"])}, "ksi", 1.0 / MPA_PER_KSI),
    )  # fmt: skip
    return [chart_figure(chart, travel, marked, before + k) for k, chart in enumerate(charts, 1)]


__all__: Sequence[str] = ("rear_end",)
