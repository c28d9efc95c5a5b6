"""The boss at the toe of a foot lever: where the foot bears, and the metal about its hole.

Axes of the feature: the middle of the boss is the origin, z lies along the pivot, away from the bracket, and the arm
comes from -x. The peg stands on the face toward +z, or on the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

import numpy as np

from parts.core.loads import LoadCase, resultant
from parts.core.rules import Rule, at_least
from parts.features.arm.round_end import RoundEnd, disc, outside_marks, strips_beside
from parts.features.arm.tip import AtTip
from parts.features.section.notches import edge_hole
from parts.standards.materials.materials import Material

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Notch, Span
    from parts.core.supports import Applied

X, Y, Z = np.eye(3)
LEAST_WALL = 0.25
"""Least metal beside the hole, in its diameters [-]; common practice, no source."""
BEYOND = 0.5
"""How far a peg stands past where the foot bears, in what it stands out [-]; common practice, no source."""


class Toe(RoundEnd):
    """What every toe has: where its foot bears, and the boss about its hole."""

    seen_from_its_end: ClassVar[bool] = False
    called: ClassVar[str] = "toe"
    if TYPE_CHECKING:
        height_of_foot: Any
        side: str

    @property
    def hole(self) -> Any:
        """Diameter that the hole takes out of the boss [mm]."""
        raise NotImplementedError

    @property
    def drilled(self) -> Any:
        """Diameter that is cut [mm]."""
        raise NotImplementedError

    @property
    def notch(self) -> Notch:
        """What raises the stress beside the hole."""
        raise NotImplementedError

    @property
    def ring(self) -> Any:
        """Diameter of the weld on it at its outer toe [mm]; 0 where nothing is welded to it."""
        return 0.0

    def softens(self, metal: Material) -> Material:
        """A metal as it is within reach of what is welded to the toe: as it was, of most toes."""
        return metal

    @property
    def up(self) -> float:
        """1 where the peg stands on the face toward +z, -1 on the other."""
        return 1.0 if self.side == "away" else -1.0

    @property
    def foot(self) -> Any:
        """z of where the foot bears [mm]."""
        return self.up * (self.width / 2.0 + self.height_of_foot)

    def at_face(self, site: AtTip, case: LoadCase) -> tuple[Any, Any]:
        """Force [N] and moment [N*mm] at the face that the peg stands on, z out of it: turned about x on the other."""
        face = np.asarray(self.up * self.width / 2.0, float)[..., None] * Z
        force, moment = resultant(site.actions(case), face)
        turn = np.array([1.0, self.up, self.up])
        return force * turn, moment * turn

    def boss_rules(self, site: AtTip) -> Iterator[Rule]:
        yield at_least(
            "toe.wall", f"{site.field}.diameter", (self.diameter - self.hole) / 2.0,
            np.maximum(LEAST_WALL * self.hole, 2.0),
            "too little metal stands around the hole (a quarter of it and 2 mm: common practice, no source)",
            "make the boss larger, or the hole smaller",
        )  # fmt: skip
        yield at_least(
            "toe.break", f"{site.field}.width", np.minimum(self.width, (self.diameter - self.hole) / 2.0),
            4.0 * np.asarray(site.edge_break, float), "the chamfers eat the faces of the boss", "make the boss larger",
        )  # fmt: skip

    def spans(self, site: AtTip) -> Sequence[Span]:
        return [
            strips_beside(
                f"{self.called} beside its hole",
                site,
                self.diameter,
                self.width,
                self.drilled,
                self.notch,
                sunk=(self.hole - self.drilled) / 2.0 + site.edge_break,
            )
        ]

    def applied(self, site: AtTip, case: LoadCase) -> Sequence[Applied]:
        """What the peg does to the wall of its hole."""
        from parts.core.supports import Applied, Round

        half = float(self.width) / 2.0
        wall = Round(np.zeros(3), Z, float(self.drilled), -half, half)
        return (Applied("toe", (wall,), tuple(site.actions(case))),)

    def across(self) -> cq.Workplane | None:
        """What a hole across takes out of the boss, in the axes of the toe; None where there is none."""
        return None

    def solid(self, edge_break: float) -> cq.Workplane:
        """The boss, not yet drilled."""
        return disc(float(self.diameter), float(self.width), edge_break)

    def cut_from(self, body: cq.Workplane, edge_break: float, place: Any) -> cq.Workplane:
        """Cut the hole; `place` is the middle of the boss in the part's axes."""
        from parts.shapes.profile import broken_hole

        x, y, z = (float(v) for v in place)
        half, d = float(self.width) / 2.0, float(self.drilled)
        sunk = (float(self.hole) - d) / 2.0 + edge_break
        return body.cut(broken_hole(d, z - half, z + half, sunk, "z", (x, y, 0.0)))

    def outside(self) -> Marks:
        """What a drawing says of the boss."""
        from parts.core.drawing import Marks

        return Marks(outside_marks(self.called, float(self.diameter), float(self.width)))


class PeggedToe(Toe):
    """A toe whose peg stands in a hole of its own size."""

    if TYPE_CHECKING:
        peg: Any

    @property
    def hole(self) -> Any:
        return self.peg

    @property
    def drilled(self) -> Any:
        return self.peg

    @property
    def notch(self) -> Notch:
        return edge_hole(self.peg)
