"""What a notebook shows of a part: its name, what governs, and its checks as a table."""

from __future__ import annotations

from html import escape
from typing import Any

from parts.core.figures import figure
from parts.core.search.result import Result


def summary(result: Result[Any]) -> str:
    """A short HTML summary, every text of the user's escaped."""
    part = result.part
    head = f"<p><b>{escape(part.name)}</b> {escape(part.title)}: {escape(part.family)} in {escape(part.metal.name)}</p>"
    rows = "".join(
        "<tr>"
        + "".join(
            f"<td>{escape(cell)}</td>"
            for cell in (
                one.name,
                one.load_case,
                figure(one.factor),
                figure(one.required),
                "ok" if one.ok else "SHORT",
            )
        )
        + "</tr>"
        for one in result.checks
    )
    columns = "".join(f"<th>{c}</th>" for c in ("check", "load case", "factor", "required", ""))
    return f"{head}<table><tr>{columns}</tr>{rows}</table>"
