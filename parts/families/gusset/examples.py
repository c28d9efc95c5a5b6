"""A gusset to start from."""

from collections.abc import Mapping
from typing import Any

HEADSTOCK: Mapping[str, Any] = {
    "family": "gusset plate",
    "name": "HC-108",
    "title": "headstock gusset",
    "material": "4130 normalized",
    "form": "sheet",
    "tube_a": "1-1/4 in x 0.065 in",
    "tube_b": "1 in x 0.058 in",
    "angle": "62 deg",
    "thickness": "0.090 in",
    "plate": {"type": "centre plane", "leg_a": "110 mm", "leg_b": "95 mm"},
    "weld": {"leg": "2.5 mm"},
    "loads": [
        {"name": "braking", "forces": [{"at": "tube b", "force": ["1.2 kN", "-600 N", 0]}]},
    ],
}
