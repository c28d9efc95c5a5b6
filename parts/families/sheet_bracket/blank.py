"""The flat blank of a sheet bracket: its outline, its holes, and where it is bent."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from parts.core.blank import Blank, BlankHole, Fold
from parts.families.sheet_bracket.leg import ROUND, Standing
from parts.families.sheet_bracket.shape import BracketShape
from parts.families.sheet_bracket.strength import bend_name
from parts.features.sheet.plan import Corner, rounded
from parts.strength.section.outline import Outline


def outline(part: BracketShape, lengths: Mapping[str, Any], *, square: bool = False) -> Outline:
    """The base with its legs laid flat.

    Args:
        part: the bracket.
        lengths: how far each leg reaches from its side [mm].
        square: bent legs end square, for a bend follows.
    """
    (x0, x1), (y0, y1) = part.base.bounds()
    ends = {"front": (x1, y1), "left": (x0, y1), "back": (x0, y0), "right": (x1, y0)}
    corners: list[Corner] = []
    for i, side in enumerate(ROUND):
        one, after = part.stands.get(side), part.stands.get(ROUND[(i + 1) % 4])
        if one is not None:
            corners += _leg(part, one, lengths[side], square=square)
        if not any(leg is not None and leg.full for leg in (one, after)):
            corners.append((*ends[side], part.base.corner))
    return rounded(corners)


def _leg(part: BracketShape, one: Standing, length: Any, *, square: bool) -> list[Corner]:
    tip = 0.0 if square and one.leg.bends else one.leg.corner
    half, found = one.wide / 2.0, []
    rows = (
        (0.0, -half, part.relieved),
        (length, -half, tip),
        (length, half, tip),
        (0.0, half, part.relieved),
    )
    for out, along, radius in rows:
        if one.full and not np.any(out):
            continue
        x, y, _ = np.moveaxis(one.space(one.edge + out, one.across + along, 0.0), -1, 0)
        found.append((x, y, radius))
    return found


def bracket_blank(part: BracketShape) -> Blank:
    """The blank, in the x and y of the base."""
    shop, holes, folds, bends = part.k_factor, [], [], []
    for i, (x, y) in enumerate(part.base.places(), 1):
        holes.append(BlankHole(f"base hole {i}", (float(x), float(y)), float(part.base.hole)))
    for name, one in part.stands.items():
        leg = one.leg
        at = one.strip.flat(leg.reach, shop)
        for i, off in enumerate(leg.offsets, 1):
            label = f"{name} hole" + (f" {i}" if leg.pitch is not None else "")
            holes.append(
                BlankHole(label, _flat(one, at, off), float(leg.drilled), leg.pin.after_cutting)
            )
        for i, (turn, (_, end)) in enumerate(
            zip(one.strip.turns, one.strip.bends(), strict=True), 1
        ):
            takes = one.strip.allowance(turn, shop)
            middle = one.strip.flat(end, shop) - takes / 2.0
            half, degrees = one.wide / 2.0, np.degrees(float(turn.angle))
            ends = _flat(one, middle, -half), _flat(one, middle, half)
            words = (
                f"{bend_name(one, i)}: {abs(degrees):.1f} deg {'up' if degrees > 0 else 'down'}, inside radius "
                f"{float(turn.radius):.2f} mm, line {float(middle):.2f} mm from the base"
            )
            if part.springback is not None:
                words += f", machine to {abs(degrees) / part.springback:.1f} deg"
            folds.append(Fold(*ends, bool(degrees > 0)))
            bends.append(words)
    lengths = {n: one.strip.flat(_tip(one), shop) for n, one in part.stands.items()}
    middle_of = {n: _tip(one) for n, one in part.stands.items()}
    t = float(part.thickness)
    return Blank(
        outline(part, lengths), t, (0.0, 0.0, t / 2.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), tuple(holes),
        bends=tuple(bends), folds=tuple(folds), bent=outline(part, middle_of) if folds else None,
    )  # fmt: skip


def _tip(one: Standing) -> Any:
    return one.leg.reach + one.leg.end


def _flat(one: Standing, out: Any, along: Any) -> tuple[float, float]:
    x, y, _ = one.space(one.edge + out, one.across + along, 0.0)
    return float(x), float(y)


def blank_facts(part: BracketShape) -> Mapping[str, tuple[Any, str]]:
    """How long each leg is on the blank, and what each bend takes of it."""
    found: dict[str, tuple[Any, str]] = {}
    for name, one in part.stands.items():
        found[f"blank, {name} from the base"] = (one.strip.flat(_tip(one), part.k_factor), "mm")
        for i, turn in enumerate(one.strip.turns, 1):
            taken = one.strip.allowance(turn, part.k_factor)
            found[f"allowance, {bend_name(one, i)}"] = (taken, "mm")
            found[f"K-factor, {bend_name(one, i)}"] = (
                one.strip.factor(turn, part.k_factor) / 2.0,
                "-",
            )
    return found
