"""What service takes from the strength of a part: the warmth that it works in, and its finish.

Warmth weakens every metal in the part. The part is taken to keep the least share of all of them; bought hardware counts
as alloy steel. Every check but those of fatigue must reach its factor divided by that share. E falls less than yield
does, so this is safe for buckling. Fatigue takes the warm strengths of the metal at its place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.group import Group
from parts.core.rules import Rule, at_most
from parts.core.search.subject import Subject
from parts.standards.materials.materials import Material
from parts.strength.fatigue.finish import coating, finish_factor, finish_source
from parts.strength.fatigue.temperature import SOURCE, hottest, least_factor

ROOM = 20.0
"""Temperature that the strengths of the tables are for [°C]."""
BOUGHT = ("4130", "all")
"""Alloy and condition whose loss stands for that of bolts, pins and rod ends."""
SOFT_PARTS = 120.0
"""Where nylon rings, seals, liners, grease and thread locker let go [°C]; common practice, no source."""


def metals(group: Any) -> Iterator[Material]:
    """Every metal that a group of dimensions names, one for each place."""
    if isinstance(group, Material):
        if not group.fit_up_only:
            yield group
    elif isinstance(group, Group):
        for name in type(group).model_fields:
            yield from metals(getattr(group, name))
    elif isinstance(group, list | tuple):
        for one in group:
            yield from metals(one)


def _named(part: Subject) -> list[tuple[str, str]]:
    """Alloy and condition of every metal of a part, and of what is bought for it."""
    return list(dict.fromkeys([BOUGHT, *((one.alloy, one.condition) for one in metals(part))]))


def warm_rules(part: Subject) -> Iterator[Rule]:
    """A rule for each metal: no warmer than its strengths are known."""
    if part.temperature <= ROOM:
        return
    for alloy, condition in _named(part):
        known = hottest(alloy, condition)
        what = "bought hardware" if (alloy, condition) == BOUGHT else f"{alloy} {condition}"
        yield at_most(
            "part.temperature", "temperature", part.temperature, ROOM if np.isnan(known) else known,
            f"no strength of {what} is known here in that warmth",
            "shield it from the heat, or take a metal whose strength there is known", unit="°C",
        )  # fmt: skip


PRESS_OF_TWO = "press of two metals"
"""Mode of a check of a press that alone holds, of metals that warmth lets grow by different amounts."""


def share_kept(part: Subject) -> float:
    """Share of its strength that a part keeps at its temperature [-]; 1 at room temperature."""
    if part.temperature <= ROOM:
        return 1.0
    return min(float(least_factor(part.temperature, *one)) for one in _named(part))


def _loosened(one: Check) -> Check:
    """A press fit of two metals that must hold a load by itself: no method here says what warmth leaves of it."""
    if one.mode != PRESS_OF_TWO or not np.any(np.asarray(one.demand) > 0.0):
        return one
    return replace(
        one, capacity=np.nan,
        note="warmth loosens a press of two metals by more than its fit: a shoulder, a circlip or a head must hold",
    )  # fmt: skip


def warmed(part: Subject, checks: Iterable[Check]) -> Sequence[Check]:
    """Checks with their required factors raised by what warmth takes; unchanged at room temperature."""
    if part.temperature > ROOM:
        checks = map(_loosened, checks)
    keeps = part.keeps
    if keeps == 1.0:
        return tuple(checks)
    note = f"the factor asked for is over {keeps:.3g}, what is left at {part.temperature:g} °C ({SOURCE})"
    return tuple(
        replace(one, required=one.required / keeps, note="; ".join(filter(None, (one.note, note))))
        for one in checks
    )


def finish_kept(finish: str, own: Material, here: Material) -> tuple[float, str]:
    """What a finish leaves of the fatigue strength of a place, and what a note says of it.

    Args:
        finish: as the part states it.
        own: the part's own metal, which has the finish.
        here: the metal of the place; another alloy than the part's own is bought, and has none of it.

    Returns:
        Factor [-] from 0 to 1, not a number where no effect is published; and a sentence, empty for bare metal.
    """
    if here.alloy != own.alloy or coating(finish) == "none":
        return 1.0, ""
    family = "steel" if "steel" in here.family else here.family
    kept, source = (
        finish_factor(finish, family, here.alloy),
        finish_source(finish, family, here.alloy),
    )
    if np.isnan(kept):
        return kept, f"finish not judged: {source}"
    return kept, f"{finish} keeps {kept:.2g} of the fatigue strength ({source})"


def service_cautions(part: Subject) -> Iterator[str]:
    """What warmth and plating ask of the builder."""
    if part.temperature > SOFT_PARTS:
        yield (
            f"At {part.temperature:g} degC nylon rings, seals, liners, grease and thread locker let go: take all-metal "
            "nuts and metal-to-metal joints. Press fits loosen where the eye warms first (common practice, no source)."
        )
    plated = coating(part.finish) in ("chromium", "nickel", "cadmium", "zinc")
    if plated and "steel" in part.metal.family and part.metal.ultimate_strength > 1000.0:
        yield (
            "Plated steel of over 1000 MPa takes up hydrogen and breaks under a steady load: bake it within hours of "
            "plating, or take another coating (common practice, no source)."
        )
