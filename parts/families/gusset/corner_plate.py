"""A plate in the corner of two tubes, parallel to the plane of their axes: straight edges along both tubes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.feature import Answers
from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.corner_form import CornerForm, CornerSizes, RoundRelief
from parts.families.gusset.form import Setting
from parts.families.gusset.sites import OnPlate

if TYPE_CHECKING:
    from parts.core.drawing import Dimension, Marks

X, Y, Z = np.eye(3)
LEAST_THROAT = 10.0
LONGEST_LEG = 400.0
DEEPEST = 0.35
"""Most that a free edge is hollowed or bowed, as a share of its chord; common practice, no source."""
LEAST_TURN, MOST_TURN = np.radians(20.0), np.radians(172.0)


class CentrePlane(CornerSizes, Answers[OnPlate]):
    """A plate in the plane of the tubes' axes, or parallel to it, straight along both tubes."""

    def form(self, setting: Setting, offset: Any, dip: Any) -> CornerForm:
        """The plate; `offset` from the tubes' plane [mm], `dip` of its free edge."""
        return CornerForm(self, setting, offset, dip)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        """Rules of the shape."""
        field, form, leg = site.field, site.form, site.leg
        assert isinstance(form, CornerForm)
        toe = form.setting.toe
        for name, length in (("leg_a", self.leg_a), ("leg_b", self.leg_b)):
            yield at_least(
                "gusset.leg", f"{field}.{name}", length, 2.0 * toe + self.relief.size + 10.0,
                "too little straight edge is left to weld between relief and toe",
                "lengthen the leg, or lessen the relief or the toe radius",
            )  # fmt: skip
            yield at_most(
                "gusset.leg_long", f"{field}.{name}", length, LONGEST_LEG,
                "no gusset of a one-off vehicle is this long; it looks like the wrong unit",
                "check the unit of this value",
            )  # fmt: skip
        yield at_least(
            "gusset.relief", f"{field}.relief.size", self.relief.size, np.maximum(2.0 * leg, 5.0),
            "the corner would sit on the weld between the tubes (twice the weld leg: common practice, no "
            "source)",
            "enlarge the relief",
        )  # fmt: skip
        edge = form.edge
        if edge.dip is not None:
            yield at_most(
                "gusset.dip", "free_edge", np.abs(edge.dip), DEEPEST * edge.chord,
                "a free edge hollowed or bowed this far is no gusset's (common practice, no source)",
                "lessen the depth or rise of the free edge",
            )  # fmt: skip
        turns = form.turns
        yield at_least(
            "gusset.toe_sharp", "free_edge", np.minimum(*turns), LEAST_TURN,
            "the free edge leaves a toe nearly square to its own leg, so that the toe is no toe",
            "lengthen the shorter leg, or lessen the rise of the free edge", "deg",
        )  # fmt: skip
        yield at_most(
            "gusset.toe_thin", "free_edge", np.maximum(*turns), MOST_TURN,
            "a toe runs out to a feather", "lessen the depth of the free edge", "deg",
        )  # fmt: skip
        throats = np.minimum.reduce([cut.high - cut.low for cut in form.cuts(())])
        yield at_least(
            "gusset.throat", field, throats, LEAST_THROAT,
            "too little plate is left between the inner corner and the free edge",
            "lengthen the legs, or lessen the relief or the depth of the free edge",
        )  # fmt: skip

    def marks(self, site: OnPlate) -> Marks:
        """Legs, angle, toes, relief and free edge."""
        from parts.core.drawing import Marks

        assert isinstance(site.form, CornerForm)
        return Marks(tuple(self._sizes(site.form, float(site.thickness))))

    def _sizes(self, form: CornerForm, thickness: float) -> Iterator[Dimension]:
        from parts.core.drawing import Angle, Callout, Linear, Radius
        from parts.families.gusset.edge_marks import edge_sizes, lifted, thickness_size

        h, r = thickness / 2.0, float(form.setting.toe)
        along_a, along_b = (np.array([*np.asarray(v, float), 0.0]) for v in form.along)
        corner = np.array([0.0, 0.0, h])
        leg_a, leg_b = float(form.plate.leg_a), float(form.plate.leg_b)
        toes = [lifted(toe, h) for toe in form.toes]
        yield Linear("leg a", corner, toes[0] + along_a * r, along_a, leg_a, view="front")
        yield Linear("leg b", corner, toes[1] + along_b * r, along_b, leg_b, view="front")
        angle = float(form.setting.angle)
        yield Angle("angle of the edges", corner, along_a, along_b, angle, view="front")
        leave, _ = form.edge.tangents
        way = (along_a + (lifted(leave, h) - toes[0]) / r) / 2.0
        yield Radius("toe", toes[0], Z, way / np.linalg.norm(way), r, count=2, view="front")
        size = float(form.plate.relief.size)
        middle = np.array([np.cos(angle / 2), np.sin(angle / 2), 0.0])
        if isinstance(form.plate.relief, RoundRelief):
            yield Radius("relief", corner, Z, middle, size, callout="relief", view="front")
        else:
            at = corner + middle * size * np.cos(angle / 2)
            off = Linear("relief", corner, corner + along_a * size, along_a, size)
            yield Callout(
                "relief", at, "corner cut off, {0} along both edges", (off,), view="front"
            )
        yield from edge_sizes(form.edge, h, "free edge")
        yield thickness_size(np.asarray(form.toes[0], float) + np.array([r, 0.0]), thickness)
