"""Where a hole lies on the sheet of a gusset."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.drawing import Linear
from parts.families.gusset.form import Form

X, Y, _ = np.eye(3)


def place_sizes(form: Form, name: str, centre: Any) -> Iterator[Linear]:
    """Where a hole lies: from the inner corner, or from the bottom of tube A's notch and the middle line."""
    start = np.array([*np.asarray(form.measured_from, float), 0.0])
    end = np.array([*np.asarray(centre, float), 0.0])
    for way, axis in ((X, "x"), (Y, "y")):
        value = float((end - start) @ way)
        if abs(value) > 1e-6:
            yield Linear(
                f"{name}, {axis}", start, end, way * np.sign(value), abs(value), view="front"
            )
