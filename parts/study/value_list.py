"""Values of a dimension as a builder asks for them: a list, or a range by steps or by count."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np

from parts.inputs.quantities import Units
from parts.inputs.units import ANGLE
from parts.study.dimension import Dimension, refusal

MOST_VALUES = 1_000_000
_RANGE = re.compile(
    r"(?P<first>.+?)\s+to\s+(?P<last>.+?)\s+(?:by\s+(?P<step>.+)|in\s+(?P<count>\d+))"
)
_RIGHT = "write `6 mm, 8 mm, 3/8 in`, `6 mm to 10 mm by 0.5 mm` or `6 mm to 10 mm in 81`"


def asked_values(one: Dimension, text: str, units: Units, file: str = "") -> list[tuple[str, Any]]:
    """The values that a text asks for, each as a file states it and as it is inside.

    Args:
        one: the dimension.
        text: "6 mm, 8 mm", "6 mm to 10 mm by 0.5 mm", "6 mm to 10 mm in 81", or designations in a list.
        units: units of bare numbers.
        file: the part's file, for messages.

    Returns:
        Pairs of text and value, in the order asked for.

    Raises:
        InputError: it is no such text, or asks for nothing.
    """
    found = _RANGE.fullmatch(text.strip()) if one.kind is not None else None
    try:
        if found:
            values = _range(one, found, units)
            return [(_said(one, value), value) for value in values]
        said = [piece.strip() for piece in text.split(",") if piece.strip()]
        if not said:
            raise ValueError("no value is asked for")
        return [(piece, one.read(piece, units)) for piece in said]
    except ValueError as error:
        right = _RIGHT if one.kind is not None else "write them parted by commas"
        right = f"they are {', '.join(one.words)}" if one.words else right
        raise refusal(
            file, one.path, "bad_values", f"`{text.strip()[:40]}`: {error}", right
        ) from None


def _range(one: Dimension, found: re.Match[str], units: Units) -> list[float]:
    first, last = (one.read(found[end], units) for end in ("first", "last"))
    if found["count"]:
        count = int(found["count"])
        if count < 1:
            raise ValueError("this range holds no value")
        if count > MOST_VALUES:
            raise ValueError(f"this range holds {count} values, more than {MOST_VALUES}")
        return [float(v) for v in np.linspace(first, last, count)]
    step = replace(one, sign="").read(found["step"], units)
    if step == 0.0 or (last - first) * step < 0.0:
        raise ValueError("this range holds no value: its step leads away from its end")
    # The last value counts where the steps reach it to rounding.
    count = int((last - first) / step + 1e-9) + 1
    if count > MOST_VALUES:
        raise ValueError(f"this range holds {count} values, more than {MOST_VALUES}")
    return [first + i * step for i in range(count)]


def _said(one: Dimension, value: float) -> str:
    """A value in inside units as a file states it."""
    assert one.kind is not None
    if one.kind is ANGLE:
        return f"{value:.12g} rad"
    return f"{value:.12g} {one.kind.inside}".strip()
