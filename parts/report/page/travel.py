"""The rear end moved through its travel on the page of a build: where everything that moves stands, step by step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.report.page.html import Html, tag


@dataclass(frozen=True)
class Travel:
    """Steps of the wheel's travel, all in vehicle axes.

    Attributes:
        travel: of the wheel at each step [mm], (n,).
        shear: of the torsion bar [MPa], (n,).
        allowable: shear that it may bear [MPa].
        rate: at the wheel [N/mm], (n,).
        force: at the wheel [N], (n,).
        poses: by the name of a piece, how its places of the drawing are turned and then shifted [mm], (n, 3, 4).
        lines: by number of a line, its places [mm], (n, k, 3).
        points: by name of a hardpoint, its places [mm], (n, 3).
    """

    travel: np.ndarray
    shear: np.ndarray
    allowable: float
    rate: np.ndarray
    force: np.ndarray
    poses: Mapping[str, np.ndarray]
    lines: Mapping[int, np.ndarray]
    points: Mapping[str, np.ndarray]

    def packed(self, pieces: Sequence[str], points: Sequence[str]) -> dict[str, Any]:
        """As `travel.js` takes it: pieces and points by their numbers."""
        return {
            "travel": _flat(self.travel, 2), "shear": _flat(self.shear, 1), "allowable": round(self.allowable, 1),
            "rate": _flat(self.rate, 3), "force": _flat(self.force, 1),
            "poses": [[pieces.index(name), [_flat(one, 7) for one in own]] for name, own in self.poses.items()],
            "lines": [[i, [_flat(one, 3) for one in own]] for i, own in self.lines.items()],
            "points": [[points.index(name), [_flat(one, 3) for one in own]] for name, own in self.points.items()],
        }  # fmt: skip

    def slider(self) -> Html:
        """The control that moves the wheel, with what follows."""
        most = float(self.travel[-1])
        return tag(
            "label", "rear wheel up ",
            tag("input", type="range", name="travel", min=0, max=f"{most:g}", step=1, value=0), tag("output", ""),
            class_="travel",
        )  # fmt: skip


def _flat(values: Any, places: int) -> list[float]:
    found: list[float] = (np.round(np.asarray(values, float), places) + 0.0).ravel().tolist()
    return found
