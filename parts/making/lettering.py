"""Letters of single strokes, for engraving: the same on every machine, without any font.

A letter stands on a grid four wide and six high. A stroke is a row of points on it, each a pair of digits:
`0006` runs from the lower left corner to the upper left one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

HIGH = 6.0
"""Units in the height of a capital."""
WIDE = 4.0
"""Units in the width of a letter."""
ADVANCE = 5.8
"""Units from one letter to the next."""
LINE = 1.6
"""Distance from line to line, in heights of a capital."""

_STROKES: Mapping[str, str] = MappingProxyType(
    {
        "A": "002640 1333",
        "B": "0006 063645443303 3342413000",
        "C": "4536160501103041",
        "D": "00062644422000",
        "E": "46060040 0333",
        "F": "460600 0333",
        "G": "45361605011030414323",
        "H": "0006 4046 0343",
        "I": "1030 2026 1636",
        "J": "4641301001",
        "K": "0006 460340",
        "L": "060040",
        "M": "0006234640",
        "N": "00064046",
        "O": "103041453616050110",
        "P": "0006 063645443303",
        "Q": "103041453616050110 2240",
        "R": "0006 063645443303 2340",
        "S": "453616050413334241301001",
        "T": "0646 2620",
        "U": "060110304146",
        "V": "062046",
        "W": "0610233046",
        "X": "0046 0640",
        "Y": "062346 2320",
        "Z": "06460040",
        "0": "103041453616050110 0145",
        "1": "152620 1030",
        "2": "05163645440040",
        "3": "0516364544334241301001 1333",
        "4": "3036 360242",
        "5": "460603334241301001",
        "6": "453616050110304142 423303",
        "7": "064610",
        "8": "1304051636454433 133342413010010213",
        "9": "011030414536160504 041343",
        "-": "1333",
        "/": "0046",
        ".": "2021",
        ",": "2110",
        ":": "2122 2425",
        "'": "2624",
        "+": "1333 2224",
        "=": "0242 0444",
        "_": "0040",
        "#": "1016 3036 0242 0444",
        "(": "36242230",
        ")": "16242210",
        " ": "",
    }
)
_UNKNOWN = "0040460600"
"""A box, for a letter that has no strokes."""


def strokes(lines: Sequence[str], height: float) -> list[np.ndarray]:
    """The strokes of lines of text, centred on the origin.

    Args:
        lines: the text; small letters come as capitals.
        height: of a capital [mm].

    Returns:
        Rows of points (n, 2) [mm], one a stroke; x along the text, y up.
    """
    unit = height / HIGH
    _, tall = extent(lines, height)
    found = []
    for i, line in enumerate(lines):
        left = -_width(line) / 2.0
        base = tall / 2.0 - height - i * LINE * height
        for k, letter in enumerate(line.upper()):
            shift = np.array([left + k * ADVANCE, 0.0])
            for stroke in _STROKES.get(letter, _UNKNOWN).split():
                points = np.array([int(digit) for digit in stroke], float).reshape(-1, 2)
                found.append((points + shift) * unit + np.array([0.0, base]))
    return found


def extent(lines: Sequence[str], height: float) -> tuple[float, float]:
    """Length and height of the box that lines of text fill, from stroke to stroke [mm]."""
    wide = max((_width(line) for line in lines), default=0.0) * height / HIGH
    return wide, height * (1.0 + LINE * (len(lines) - 1))


def _width(line: str) -> float:
    return max(0.0, len(line) * ADVANCE - (ADVANCE - WIDE))
