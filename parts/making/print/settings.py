"""What a print is made with: the part's own words, then those of the printer's file, then common practice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

import numpy as np

from parts.core.shop import PRINTER, PrintFit
from parts.standards.materials.materials import Material, material
from parts.standards.materials.printing import shrinkage

USUAL: Mapping[str, Any] = MappingProxyType(
    {
        "plastic": "PLA",
        "bed": (220.0, 220.0, 250.0),
        "hole_allowance": 0.3,
        "deposition": 8.0,
        "fill": 0.4,
        "tapped": "clearance",
        "teardrop": True,
        "overhang": float(np.radians(45.0)),
        "foot_chamfer": 0.4,
        "up": None,
        "keys": "dowel",
        "key_clearance": 0.15,
    }
)
"""Common practice, no source."""


@dataclass(frozen=True)
class Settings:
    """Everything that a print is made with; lengths in mm, `deposition` in mm^3/s, `overhang` in radians."""

    plastic: Material
    bed: tuple[float, float, float]
    hole_allowance: float
    shrink: float
    deposition: float
    fill: float
    tapped: str
    teardrop: bool
    overhang: float
    foot_chamfer: float
    up: str | None
    keys: str
    key_clearance: float
    origin: Mapping[str, str]

    @property
    def scale(self) -> float:
        """What the print is enlarged by, so that it is right when it has cooled [-]."""
        return 1.0 / (1.0 - self.shrink)


def settings(
    own: PrintFit, printer: PrintFit | None = None, name: str = "printer.yaml"
) -> Settings:
    """Resolve what a print is made with.

    Args:
        own: what the part says.
        printer: what the printer's file says; None where there is none.
        name: of that file.

    Returns:
        The settings, and for each where it comes from.
    """
    values: dict[str, Any] = {}
    origin: dict[str, str] = {}
    told = ((own, "the part"), (printer, name))
    for key in (*USUAL, "shrink"):
        value, said = USUAL.get(key), "common practice"
        for source, where in reversed(told):
            if source is not None and getattr(source, key) is not None:
                value, said = getattr(source, key), where
        values[key], origin[key] = value, said
    if isinstance(values["plastic"], str):
        values["plastic"] = material(values["plastic"])
    if values["shrink"] is None:
        values["shrink"] = shrinkage(values["plastic"])
    return Settings(**values, origin=MappingProxyType(origin))


def read_printer(path: Path = PRINTER) -> PrintFit | None:
    """What the printer's file says; None where there is no such file.

    Raises:
        InputError: with every problem of the file.
    """
    from parts.inputs.document import read_document
    from parts.inputs.reading import validated

    return validated(read_document(path), PrintFit) if path.exists() else None
