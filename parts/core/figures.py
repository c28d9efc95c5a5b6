"""Numbers as a report writes them."""

from __future__ import annotations

import math
from typing import Any


def figure(value: Any) -> str:
    """A number of four significant digits, without an exponent where it can be helped."""
    plain = float(value)
    if not math.isfinite(plain):
        return "unbounded" if plain > 0.0 else "none"
    return f"{plain:.0f}" if 1e4 <= abs(plain) < 1e9 else f"{plain:.4g}"
