"""A round end of an arm, or a knee between two of its legs: a disc about an axis that is that of the hub.

Axes of the feature: the middle of the disc is the origin, z its axis, the arm comes from -x.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.loadpath import Notch, Span
from parts.features.arm.tip import AtTip
from parts.features.section.notches import same
from parts.features.section.outlines import beside_bore

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Linear, Radius

BESIDE = 0.98
"""The section beside a bore is followed to this share of the bore's radius [-]."""
X, Y, Z = np.eye(3)


class RoundEnd:
    """What follows from the diameter and the width of a round end alone [mm]."""

    if TYPE_CHECKING:
        diameter: Any
        width: Any

    @property
    def set_back(self) -> float:
        """Load point to where the arm's centre line ends [mm]: none, for a round end."""
        return 0.0

    @property
    def ahead(self) -> float:
        """Load point back to the face that the arm is measured to [mm]: none here."""
        return 0.0

    @property
    def rim(self) -> Any:
        """Radius of the round end [mm]."""
        return self.diameter / 2.0

    @property
    def height(self) -> Any:
        """Height along the axis of the hub, z [mm]."""
        return self.width


def disc(diameter: float, width: float, edge_break: float) -> cq.Workplane:
    """A round boss about z, its middle at the origin, its outside edges broken [mm]."""
    from parts.shapes.profile import cylinder

    body = cylinder(diameter, -width / 2.0, width / 2.0)
    return body.faces("|Z").edges().chamfer(edge_break) if edge_break > 0.0 else body


def outside_marks(
    name: str, diameter: float, width: float, view: str = "top"
) -> tuple[Radius | Linear, ...]:
    """Its radius, and its width from face to face."""
    from parts.core.drawing import Linear, Radius

    r, half = diameter / 2.0, width / 2.0
    return (
        Radius(name, (0, 0, half), Z, (X + Y) / np.sqrt(2.0), r, view="front"),
        Linear(f"width of the {name}", (r, 0, -half), (r, 0, half), Z, width, view=view),
    )  # fmt: skip


def strips_beside(
    name: str,
    site: AtTip,
    diameter: Any,
    width: Any,
    bore: Any,
    notch: Notch,
    rim: Any = None,
    sunk: Any = None,
) -> Span:
    """The two strips beside a bore through a round end, from its middle toward the arm.

    Args:
        name: of the span.
        site: where the end stands.
        diameter: outside [mm].
        width: along the bore [mm].
        bore: its diameter [mm].
        notch: what raises the stress beside it.
        rim: what its load adds at its rim, as `Span` has it.
        sunk: chamfer of the bore where it is not the edge break [mm].

    Returns:
        The span, in the axes of the end.
    """
    c, r = site.edge_break, diameter / 2.0
    run = np.minimum(BESIDE * bore / 2.0, site.room)
    back = np.stack(np.broadcast_arrays(-np.asarray(run, float), 0.0, 0.0), axis=-1)

    def beside(s: Any) -> Any:
        off = run * np.asarray(s, float)
        strip = beside_bore(np.sqrt(r**2 - off**2), width, bore, c, off, sunk=sunk)
        return strip + strip.mirrored()

    return Span(
        name, np.zeros(3), back, np.eye(3), beside, site.actions, site.metal, stations=9, notch=same(notch),
        rim=rim,
    )  # fmt: skip
