"""What a notebook shows of a part: its picture, whether it holds, and the checks that leave least."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any

from parts.core.figures import figure

if TYPE_CHECKING:
    from parts.core.check import Check
    from parts.core.search.result import Result

LEAST = 8
"""How many checks are shown, those that leave least."""

picture_of: Callable[[Any], bytes] | None = None
"""Draws a part as PNG. The package sets it: nothing below the solid may draw one."""


def summary(result: Result[Any]) -> str:
    """A short HTML summary, every text of the user's escaped."""
    part = result.part
    head = f"<p><b>{escape(part.name)}</b> {escape(part.title)}: {escape(part.family)} in {escape(part.metal.name)}</p>"
    short = [one for one in result.checks if not one.ok]
    verdict = (
        "holds"
        if result.checks and not short
        else f"{len(short)} of {len(result.checks)} checks fall SHORT"
    )
    least = sorted(result.checks, key=_reserve)[:LEAST]
    said = f"<p><b>{verdict}</b>; of {len(result.checks)} checks those that leave least:</p>"
    columns = "".join(f"<th>{c}</th>" for c in ("check", "load case", "factor", "required", ""))
    table = f"<table><tr>{columns}</tr>{''.join(map(_row, least))}</table>"
    return f"{head}{_picture(part)}{said}{table}"


def _reserve(one: Check) -> float:
    left = float(one.factor) / float(one.required)
    return left if left == left else -1.0


def _row(one: Check) -> str:
    cells = (
        one.name,
        one.load_case,
        figure(one.factor),
        figure(one.required),
        "ok" if one.ok else "SHORT",
    )
    return "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells) + "</tr>"


def _picture(part: Any) -> str:
    """The picture within the page; a sentence where the solid could not be built."""
    if picture_of is None:
        return ""
    try:
        drawn = b64encode(picture_of(part)).decode()
    except Exception as error:  # the checks are shown without it
        return f"<p>no picture: {escape(str(error))}</p>"
    return f'<img alt="{escape(part.name)}" width="450" src="data:image/png;base64,{drawn}">'
