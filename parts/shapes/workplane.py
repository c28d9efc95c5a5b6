"""CadQuery's workplane without the dozen planes that it makes anew at every step; importing this imports CadQuery."""

from __future__ import annotations

from copy import copy
from typing import Any

import cadquery as cq

_PLANES = {name: cq.Plane.named(name) for name in ("XY", "XZ", "YZ")}


class Workplane(cq.Workplane):
    """As CadQuery's own, on one of its named planes through the origin or on a plane of its own."""

    def __init__(self, inPlane: str | cq.Plane = "XY", obj: Any = None) -> None:
        known = isinstance(inPlane, str)
        super().__init__(copy(_PLANES[inPlane]) if known else inPlane, obj=obj)
