"""Valid parts of every family and option drawn at random, with loads drawn at random; the same on every run."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from zlib import crc32

import numpy as np
from kept import read, stated
from pydantic import BaseModel

from parts.core.freebody import OutOfBalance
from parts.core.loads import LoadCase
from parts.core.part import Part
from parts.core.rules import broken
from parts.families import families
from parts.inputs.variants import with_values

TESTS = Path(__file__).parents[1]
sys.path += [str(TESTS), str(TESTS / "families")]

from options import options  # noqa: E402

KEPT = (
    "required", "milling", "print_fit", "cutting", "drawing", "loads", "temperature", "edge_break", "material",
    "friction", "reliability", "metal",
)  # fmt: skip
"""Fields that stay: no dimensions, or dimensions that the proof leaves out."""
SPREAD, CLOSER, TRIES = 0.25, 0.94, 80
"""By how much lengths are changed, in their logarithm; how much less at each new try; and how many tries."""
ASIDE = 0.3
"""A drawn force leaves the direction of that of the option by this much, as a share of it."""
FAMILIES = tuple(sorted(families()))


def drawn(family: str, seed: int) -> tuple[str, Part]:
    """A part of a family by its number: the options follow one another, dimensions and loads are random.

    Raises:
        RuntimeError: no valid part came of so many tries.
    """
    random = np.random.default_rng([crc32(family.encode()), seed])
    names = list(options(family))
    option = names[seed % len(names)]
    start = options(family)[option].model_copy(update={"name": f"R-{seed:03d}", "edge_break": 0.0})
    for tried in range(TRIES):
        part = _changed(start, random, SPREAD * CLOSER**tried)
        if part is None:
            continue
        loaded = part.model_copy(update={"loads": [_case(part, random, tried)]})
        try:
            kept = read(stated(loaded))
            kept.check()
            return option, kept
        except (OutOfBalance, ValueError):  # loads that the joints cannot carry
            continue
    raise RuntimeError(f"{family}, {option}: no valid part in {TRIES} tries")


def _changed(start: Part, random: np.random.Generator, spread: float) -> Part | None:
    """The part with half of its lengths changed; None where it breaks a rule."""
    values: dict[str, Any] = {}
    for path, value in _lengths(start):
        if random.random() < 0.5:
            continue
        if isinstance(value, tuple):
            values[path] = tuple(round(v + 60.0 * spread * random.uniform(-1, 1), 1) for v in value)
        else:
            values[path] = _rounded(value * float(np.exp(random.uniform(-spread, spread))))
    try:
        part = with_values(start, values)
        return None if broken([*part.rules()]) else part
    except (ValueError, ArithmeticError):
        return None


def _rounded(value: float) -> float:
    """As a drawing states it: lengths to a tenth of a millimetre, small ones and angles finer."""
    return round(value, 1 if value > 2.0 else 3)


def _lengths(owner: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Dotted paths of lengths and of places, but of those that designations state."""
    if isinstance(owner, BaseModel):
        for name in type(owner).model_fields:
            if name not in KEPT:
                yield from _lengths(getattr(owner, name), f"{path}.{name}" if path else name)
    elif isinstance(owner, list):
        for i, one in enumerate(owner):
            yield from _lengths(one, f"{path}[{i + 1}]")
    elif (isinstance(owner, float) and owner > 0.0) or (
        isinstance(owner, tuple) and owner and all(isinstance(v, float) for v in owner)
    ):
        yield path, owner


def _case(part: Part, random: np.random.Generator, tried: int) -> LoadCase:
    """The option's loads, each turned aside, as a push or a pull; with moments at some points in the first tries."""
    forces = []
    for one in part.loads[0].forces:
        force, size = np.array(one.force, float), float(np.linalg.norm(one.force))
        sign = random.choice([-1.0, 1.0])
        moment = sign * np.array(one.moment, float)
        if tried % 3 < 2:
            force = force + ASIDE * size * random.normal(size=3) * random.choice([0.0, 1.0], size=3)
        if tried % 3 == 0 and random.random() < 0.5:
            moment = moment + 5.0 * size * random.normal(size=3)
        force = sign * random.uniform(0.5, 1.5) * force
        forces.append(
            one.model_copy(
                update={"force": tuple(force.round(0)), "moment": tuple(moment.round(0))}
            )
        )
    if "middle" in part.points() and random.random() < 0.5:
        aside = float(np.linalg.norm(forces[0].force)) * 0.03 * random.normal(size=3)
        forces.append(
            forces[0].model_copy(
                update={"at": "middle", "force": tuple(aside.round(0)), "moment": (0.0,) * 3}
            )
        )
    return LoadCase(name="drawn at random", forces=[one.model_dump() for one in forces])
