"""What a builder asks of a study: spreads of loads and tolerances, as he writes them."""

from __future__ import annotations

from collections.abc import Sequence

from parts.study.dimension import refusal

MOST = 2.0
"""How far off a load may be guessed at most [-]."""


def shares_of(texts: Sequence[str], file: str) -> dict[str, float]:
    """Spreads of loads [-] by load case, `""` for all others, from `20%` or `side swing=0.1`.

    Raises:
        InputError: one is no share.
    """
    found: dict[str, float] = {}
    for text in texts:
        name, _, share = text.rpartition("=")
        bare = share.strip().lstrip("+±").strip()
        try:
            value = float(bare.rstrip("% ")) / (100.0 if bare.endswith("%") else 1.0)
        except ValueError:
            value = -1.0
        if not 0.0 <= value <= MOST:
            raise refusal(
                file,
                "load",
                "bad_value",
                f"`{text}` is no spread of a load",
                "write `20%` or `side swing=20%`",
            )
        found[name.strip()] = value
    return found


def lengths_of(texts: Sequence[str], file: str) -> dict[str, str]:
    """Tolerances as they are written, by dimension, from `ears.thickness=0.05 mm`.

    Raises:
        InputError: one names no dimension.
    """
    found = {}
    for text in texts:
        path, sign, length = text.partition("=")
        if not sign or not path.strip() or not length.strip():
            raise refusal(
                file,
                "tolerance",
                "bad_value",
                f"`{text}` is no tolerance",
                "write `ears.thickness=0.05 mm`",
            )
        found[path.strip()] = length.strip()
    return found
