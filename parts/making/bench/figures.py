"""Numbers as a drawing writes them."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from parts.inputs.units import MM_PER_INCH

_LENGTHS = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? mm\b")
"""A length, or two that bound one, as words state them."""
_SIZE = r"(\d+(?:\.\d+)?)"
_BARE = re.compile(
    rf"(Ø|corners? R|radius (?:up to )?|edges | × ){_SIZE}(?: (and|×) {_SIZE})?(?: mm)?(?![\d.°])|{_LENGTHS.pattern}"
)
"""The same, and sizes that stand behind a sign or a word, as a process sheet writes them."""


@dataclass(frozen=True)
class Figures:
    """How lengths are written: `units` is mm, in, or both (inches in brackets behind mm).

    `names` are words that stand in place of a mark's values, by the mark.
    """

    units: str = "mm"
    names: Mapping[str, str] = field(default_factory=dict)

    def length(self, mm: float, *, fine: bool = False) -> str:
        """A length [mm]: to 0.01 mm or 0.001 in, one digit more where `fine`."""
        metric, inch = _trimmed(mm, 3 if fine else 2), f"{mm / MM_PER_INCH:.{4 if fine else 3}f}"
        return {"mm": metric, "in": inch, "both": f"{metric} [{inch}]"}[self.units]

    def deviation(self, mm: float) -> str:
        """A signed deviation [mm], to 0.001 mm or 0.0001 in."""
        if self.units == "in":
            return f"{mm / MM_PER_INCH:+.4f}" if round(mm / MM_PER_INCH, 4) else "0"
        return f"{mm:+.3f}" if round(mm, 3) else "0"

    def said(self, text: str) -> str:
        """Words with their lengths, which stand in mm, in the units of the drawing."""
        return text if self.units == "mm" else _LENGTHS.sub(self._swapped, text)

    def _swapped(self, found: re.Match[str]) -> str:
        sizes = [one for one in found.groups() if one is not None]
        inches = " to ".join(map(_inches, sizes))
        return f"{found[0]} [{inches} in]" if self.units == "both" else f"{inches} in"

    def shop(self, text: str) -> str:
        """Words of a process sheet in the units of the drawing: those of `said`, and Ø, R and others without a unit."""
        return _BARE.sub(self._bared, text) if self.units == "in" else text

    def _bared(self, found: re.Match[str]) -> str:
        mark, size, link, other, *_ = found.groups()
        if mark is None:
            return (
                " to ".join(_inches(one) for one in found.groups()[4:] if one is not None) + " in"
            )
        return f"{mark}{_inches(size)}" + (f" {link} {_inches(other)}" if other else "")

    def angle(self, radians: float) -> str:
        """An angle, to 0.01 degree."""
        return _trimmed(math.degrees(radians), 2) + "°"

    @property
    def unit(self) -> str:
        return {"mm": "mm", "in": "inches", "both": "mm [inches]"}[self.units]


def _inches(mm: str) -> str:
    """A length in mm as words state it, in inches with a digit more."""
    fine = len(mm.partition(".")[2]) > 2
    return f"{float(mm) / MM_PER_INCH:.{4 if fine else 3}f}"


def _trimmed(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
