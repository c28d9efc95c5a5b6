"""A plate that stands across both tubes like a brace: its rules and its drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.feature import Answers
from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.bridge_form import BridgeForm, BridgeSizes
from parts.families.gusset.form import Setting
from parts.families.gusset.sites import OnPlate

if TYPE_CHECKING:
    from parts.core.drawing import Dimension, Marks

X, Y, Z = np.eye(3)
LEAST_SLANT = np.radians(30.0)
LEAST_WRAP, MOST_WRAP = np.radians(90.0), np.radians(180.0)
LEAST_LENGTH = 12.0
LONGEST = 500.0
DEEPEST = 0.3


class Across(BridgeSizes, Answers[OnPlate]):
    """A plate square to the plane of the tubes' axes, from tube to tube like a brace, with saddle notches."""

    def form(self, setting: Setting, offset: Any, dip: Any) -> BridgeForm:
        """The plate; `offset` is always 0 here, `dip` that of both free edges."""
        return BridgeForm(self, setting, dip)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        """Rules of the shape."""
        field, form, leg = site.field, site.form, site.leg
        assert isinstance(form, BridgeForm)
        yield at_least(
            "gusset.wrap", f"{field}.wrap", self.wrap, LEAST_WRAP,
            "a saddle this shallow leaves little to weld (common practice, no source)", "wrap further round",
            "deg",
        )  # fmt: skip
        yield at_most(
            "gusset.wrap_over", f"{field}.wrap", self.wrap, MOST_WRAP,
            "a plate cannot be slid over a tube that it wraps more than half way", "wrap half way or less",
            "deg",
        )  # fmt: skip
        for side, end in zip("ab", form.ends, strict=True):
            yield at_least(
                "gusset.slant", f"{field}.at_{side}", end.slant, LEAST_SLANT,
                f"the plate lies so flat to tube {side.upper()} that its notch runs out to a feather",
                "bring the two distances from the joint nearer to each other", "deg",
            )  # fmt: skip
            width = getattr(self, f"width_{side}")
            yield at_least(
                "gusset.horn", f"{field}.width_{side}", width, 2.0 * (end.half_notch + form.setting.toe + leg),
                "the horns beside the notch are too narrow for the toe radius and the weld",
                "widen the plate, wrap less far round, or lessen the toe radius",
            )  # fmt: skip
            yield at_most(
                "gusset.width", f"{field}.width_{side}", width, 6.0 * end.radius,
                "no gusset is three times as wide as its tube; it looks like the wrong unit",
                "check the unit of this value",
            )  # fmt: skip
            yield at_most(
                "gusset.far", f"{field}.at_{side}", getattr(self, f"at_{side}"), LONGEST,
                "no gusset of a one-off vehicle is this long; it looks like the wrong unit",
                "check the unit of this value",
            )  # fmt: skip
        yield at_least(
            "gusset.bridge", field, form.clear[1] - form.clear[0], np.maximum(LEAST_LENGTH,
            2.0 * form.setting.toe),
            "too little plate is left between the two notches", "move the plate away from the joint",
        )  # fmt: skip
        for edge in form.free_edges():
            if edge.dip is None:
                continue
            yield at_most(
                "gusset.dip", "free_edge", np.abs(edge.dip), DEEPEST * edge.chord,
                "a free edge hollowed or bowed this far is no gusset's (common practice, no source)",
                "lessen the depth or rise of the free edge",
            )  # fmt: skip
        yield at_least(
            "gusset.waist", "free_edge", form.least_width, 0.4 * np.maximum(self.width_a, self.width_b),
            "the waist leaves too little plate (common practice, no source)",
            "lessen the depth of the free edge",
        )  # fmt: skip

    def marks(self, site: OnPlate) -> Marks:
        """Lengths, widths, notches, toes and free edges."""
        from parts.core.drawing import Marks

        assert isinstance(site.form, BridgeForm)
        return Marks(tuple(self._sizes(site.form, float(site.thickness))))

    def _sizes(self, form: BridgeForm, thickness: float) -> Iterator[Dimension]:
        from parts.core.drawing import Callout, Linear, Radius
        from parts.families.gusset.edge_marks import edge_sizes, lifted, thickness_size

        h, r = thickness / 2.0, float(form.setting.toe)
        (left, right), (clear_a, clear_b) = form.tips, form.clear
        wide_a, wide_b = float(form.plate.width_a), float(form.plate.width_b)
        left, right, clear_a, clear_b = (float(v) for v in (left, right, clear_a, clear_b))
        low = -wide_a / 2 + r
        yield Linear(
            "length over the horns",
            (left, low, h),
            (right, -wide_b / 2 + r, h),
            X,
            right - left,
            view="front",
        )
        yield Linear(
            "between the notches",
            (clear_a, 0, h),
            (clear_b, 0, h),
            X,
            clear_b - clear_a,
            view="front",
        )
        yield Linear(
            "depth of the notch at a",
            (left, low, h),
            (clear_a, 0, h),
            X,
            clear_a - left,
            view="front",
        )
        for name, x, wide in (("a", left, wide_a), ("b", right, wide_b)):
            at = x + (r if name == "a" else -r)
            yield Linear(
                f"width at {name}", (at, -wide / 2, h), (at, wide / 2, h), Y, wide, view="front"
            )
        for i, name in ((0, "a"), (1, "b")):
            end = form.ends[i]
            half, x = float(end.half_notch), (left, right)[i]
            yield Linear(f"notch at {name}", (x, -half, h), (x, half, h), Y, 2 * half, view="front")
            bottom = np.array([(clear_a, clear_b)[i], 0.0, h])
            tube = 2.0 * float(form.setting.radius_a if i == 0 else form.setting.radius_b)
            words = (
                f"notch {name} fits a tube Ø{tube:.2f} mm at {np.degrees(float(end.slant)):.1f}°"
            )
            yield Callout(f"notch {name}", bottom, words, view="front")
        upper, lower = form.free_edges()
        yield Radius(
            "toe",
            lifted(lower.first, h),
            Z,
            np.array([-1.0, -1.0, 0.0]) / np.sqrt(2.0),
            r,
            count=4,
            view="front",
        )
        yield from edge_sizes(upper, h, "free edges")
        yield thickness_size(np.array([left, 0.0]), thickness)
