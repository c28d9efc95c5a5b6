"""Load cases of a build on its page: where their forces come from, what they do to each body, and the balances."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from parts.core.figures import figure
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.stresses import triple

AXES = [*(f"F{axis}, N" for axis in "xyz"), *(f"M{axis}, N·m" for axis in "xyz")]
Entry = Mapping[str, Any]


def load_cases(cases: Sequence[Entry]) -> Html | None:
    """Every load case: how its forces were found, what was chosen, and the forces on every body.

    Args:
        cases: as `parts.folders.build_data` gives them.

    Returns:
        What stands under the section's head; None where there is no load case.
    """
    if not cases:
        return None
    rows = [
        [case["name"], tag("span", case["formula"], class_="code"), _factors(case), case["note"]]
        for case in cases
    ]
    return joined(
        table("Where the loads come from", ["load case", "formula", "what was chosen, and by what source", "note"],
              rows),
        tag("p", "A factor is a choice, not a measurement: who has measured loads states those. Forces in the "
                 "vehicle's axes: x forward, y to the left, z up. Of an equal pair of links the left one is shown."),
        *[_forces(case) for case in cases],
    )  # fmt: skip


def _factors(case: Entry) -> Html:
    """What was chosen, a line each, and how often the load comes."""
    lines = [
        tag("li", f"{one['name']}: {_value(one['value'])}; {one['source']}")
        for one in case["factors"]
    ]
    lines += [
        tag("li", f"{figure(one['cycles'])} times {100.0 * one['share']:g} % of it, "
                  f"ratio {one['ratio']:g}: {one['what'] or 'as the build states'}")
        for one in case["spectrum"]
    ]  # fmt: skip
    return tag("ul", *lines) if lines else joined("stated")


def _value(value: Any) -> str:
    return figure(value) if isinstance(value, int | float) else str(value)


def _forces(case: Entry) -> Html:
    rows = [
        [f"on {one['on']}, at {one['at']}", one["by"], *_numbers(one)]
        for one in case["forces"]
        if any(one["force_N"]) or any(one["moment_Nmm"])
    ]
    head = ["on, at", "by", *AXES]
    return tag(
        "details",
        tag("summary", f"Forces of {case['name']}"),
        table(f"Forces on every body, {case['name']}", head, rows, numbers=tuple(range(2, 8))),
    )


def _numbers(one: Entry) -> list[str]:
    """Force in N and moment in N·m."""
    return [*map(figure, one["force_N"]), *(figure(v / 1000.0) for v in one["moment_Nmm"])]


def balances(data: Entry) -> Html | None:
    """What is left over of the forces on every body and every part, and the forces to unfold.

    Args:
        data: the data of the page.

    Returns:
        What stands under the section's head; None where nothing is loaded.
    """
    found = [*_of_cases(data), *_of_parts(data)]
    if not found:
        return None
    rows = [
        [who, where, figure(_largest(one)), _left(one), "✓ balances" if one["ok"] else f"✗ {one['error']}"]
        for who, where, one in found
    ]  # fmt: skip
    good = sum(bool(one["ok"]) for _, _, one in found)
    said = f"{good} of {len(found)} free bodies balance: the forces on each, and their moments, sum to nothing."
    return joined(
        tag("p", said),
        table("Free bodies", ["body", "under", "largest force, N", "left over of the largest", "verdict"], rows,
              numbers=(2, 3)),
        tag("details", tag("summary", "Force by force"), *[_free_body(*one) for one in found]),
    )  # fmt: skip


def _of_cases(data: Entry) -> Iterator[tuple[str, str, Entry]]:
    for case in data["cases"]:
        for one in case["balances"]:
            yield one["body"], case["name"], one


def _of_parts(data: Entry) -> Iterator[tuple[str, str, Entry]]:
    for part in data["parts"]:
        for one in part["balances"]:
            yield f"part {part['name']}", one["case"], one


def _largest(one: Entry) -> float:
    return max((float(np.linalg.norm(act["force_N"])) for act in one["acting"]), default=0.0)


def _left(one: Entry) -> str:
    share = one["left_over_share"]
    return "unbounded" if share is None else "0" if share < 1e-12 else f"{share:.1g}"


def _free_body(who: str, where: str, one: Entry) -> Html:
    rows = [[act["by"], triple(act["at_mm"]), *_numbers(act)] for act in one["acting"]]
    axes = "in the part's own axes" if who.startswith("part ") else "in the vehicle's axes"
    return tag(
        "details",
        tag("summary", f"{who} under {where}"),
        table(f"What acts on {who}, {axes}", ["by", "at (x, y, z), mm", *AXES], rows,
              numbers=tuple(range(2, 8))),
    )  # fmt: skip
