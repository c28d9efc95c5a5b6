"""The table of joints on a page: each clearance with every size at its worst, and by the root of squares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from parts.report.page.html import Html, joined, table, tag

GOES = {"free": "with play", "pressed": "by force", "either": "by hand or by force"}
SAID = (
    "A clearance is what the room leaves when what goes in has filled it; below nought it is pressed in. Least and "
    "greatest are with every size at its worst (ISO 8015); by the root of squares nearly all of many joints would lie "
    "between the two in the next columns. A part whose joint does not go together at its limits is refused."
)


def joints_table(entries: Sequence[Mapping[str, Any]]) -> Html | None:
    """Lay out joints.

    Args:
        entries: as `parts.core.clearances.Clearance.entry` gives them, with the name of the `part` on a page of many.

    Returns:
        The table, with what its columns mean; None without joints.
    """
    if not entries:
        return None
    many = "part" in entries[0]
    rows = [
        [
            *([one["part"]] if many else []), one["joint"], _sizes(one["room"]), _sizes(one["filled"]),
            *(f"{one[key]:.3f}" for key in ("least_mm", "greatest_mm", "usual_least_mm", "usual_greatest_mm")),
            "" if one["loosest_mm"] is None else f"{one['loosest_mm']:.3f}", GOES[one["goes"]],
        ]
        for one in entries
    ]  # fmt: skip
    head = [
        *(["part"] if many else []), "joint", "room, mm", "what goes in, mm", "least clearance, mm",
        "greatest, mm", "least by squares, mm", "greatest by squares, mm", "allowed, mm", "goes together",
    ]  # fmt: skip
    first = 4 if many else 3
    shown = table("Joints at their limits", head, rows, numbers=tuple(range(first, first + 5)))
    return joined(shown, tag("p", SAID, class_="what"))


def _sizes(sizes: Sequence[Mapping[str, Any]]) -> str:
    return "; ".join(
        f"{one['name']} {one['least_mm']:.3f} to {one['most_mm']:.3f} ({one['by']})"
        for one in sizes
    )
