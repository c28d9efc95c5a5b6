"""Where the features of a gusset stand: on a plate between two tubes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from parts.core.feature import Site
from parts.families.gusset.form import Form
from parts.families.gusset.rim import Hole, Rim
from parts.standards.materials.materials import Material


@dataclass(frozen=True, kw_only=True)
class OnPlate(Site):
    """A feature of a plate, in the plate's own axes; what acts is what acts at the tab, in the axes of the part.

    Attributes:
        form: the plate.
        leg: of its fillets [mm].
        diameters: outside diameters of the tubes [mm].
        near: what the plate is made of at places (..., 3) of the part: softened where one of them is near a weld.
        holes: its lightening holes.
        rim: their rims.
    """

    form: Form
    leg: Any
    diameters: tuple[Any, Any]
    near: Callable[[Sequence[Any]], Material]
    holes: Sequence[Hole]
    rim: Rim

    @property
    def prefix(self) -> str:
        """What the names of the checks begin with."""
        return f"{self.name} " if self.name else ""
