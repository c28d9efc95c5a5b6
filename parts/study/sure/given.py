"""The numbers of a part that are not known exactly, each with how it is spread."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

import numpy as np

from parts.core.part import Part
from parts.inputs.document import dotted, read_document
from parts.inputs.problems import InputError
from parts.inputs.reading import refers_to_build
from parts.inputs.units import ANGLE, LENGTH
from parts.inputs.variants import with_values
from parts.making.bench.inspection import items
from parts.standards.fits.general_tolerances import deviation_of, general_deviations
from parts.standards.materials.materials import Material
from parts.study.dimension import dimensions
from parts.study.stating import Stated
from parts.study.sure.moving import STEP, moved, own_error, roots
from parts.vehicle.build import Build
from parts.vehicle.file.loading import found_in_build

Kind = Literal["size", "reading", "strength", "load"]
SAME = 1e-6
USUAL = "ISO 2768-m"
NOT_ON_THE_PART = ("milling", "print_fit", "cutting", "drawing")
"""Groups of lengths that are the tool's or the paper's."""
SCATTER: Mapping[str, tuple[float, str]] = {
    "carbon steel": (0.07, "JCSS Probabilistic Model Code, part 3.2, yield of structural steel; from memory"),
    "low-alloy steel": (0.05, "common practice, no source"),
    "stainless steel": (0.07, "common practice, no source"),
    "spring steel": (0.05, "common practice, no source"),
    "aluminium": (0.06, "common practice, no source"),
    "titanium": (0.05, "common practice, no source"),
}  # fmt: skip
"""Standard deviation of a strength over its mean from heat to heat [-], by the family of the metal, and its source."""
OTHER_SCATTER = (0.08, "common practice, no source")
BELOW_MINIMUM = 2.326348
"""Standard deviations from the mean to the strength that 99 of 100 exceed [-]: what an A-basis minimum is (MIL-HDBK-5J,
9.1.6; its confidence of 95 % is not counted). A minimum of a standard (S) is taken for the same."""
LOAD_SPREAD = 0.3
"""How far off a guessed load is, two standard deviations over itself [-]; common practice, no source."""
STRENGTHS = ("yield_strength", "ultimate_strength", "shear_ultimate", "shear_yield", "bearing_ultimate",
             "bearing_yield", "bearing_ultimate_ed15", "bearing_yield_ed15")  # fmt: skip


@dataclass(frozen=True)
class Given:
    """A number that is not known exactly.

    Attributes:
        name: path of the dimension, hardpoint and axis, metal, or load case.
        kind: what it is; what it does to the part hangs on it.
        spread: half the width between its limits [mm] of a size, which lies anywhere between them; the standard
            deviation [mm] of a reading; that of the logarithm [-] of a strength or a load.
        said: its spread in words, with the source.
        middle: of a size, from the drawn one to the middle of its limits [mm].
        moves: of a reading, mm or rad that each dimension moves for each of its own mm.
        paths: of a strength, where the metal stands; empty for the part's own.
        case: of a load, the number of the load case.
    """

    name: str
    kind: Kind
    spread: float
    said: str
    middle: float = 0.0
    moves: Mapping[str, float] = field(default_factory=dict)
    paths: tuple[str, ...] = ()
    case: int = -1

    def at(self, share: Any) -> Any:
        """Its value where so large a share of all lie below: [mm] off the drawn size, or a factor [-]."""
        if self.kind == "size":
            return self.middle + self.spread * (2.0 * np.asarray(share) - 1.0)
        from scipy.special import ndtri

        off = ndtri(share)
        if self.kind == "reading":
            return self.spread * off
        raised = BELOW_MINIMUM if self.kind == "strength" else 0.0
        return np.exp(self.spread * (raised + off))

    def narrowed(self, to: float) -> Given:
        """The same number, known so many times as closely about its middle, the middle where it is."""
        if self.kind == "strength":  # its middle hangs on its spread
            return _Known(**{**vars(self), "spread": self.spread * to, "wide": self.spread})
        return replace(self, spread=self.spread * to)


@dataclass(frozen=True)
class _Known(Given):
    """A strength of a heat that was tested: its middle stays, its spread is less."""

    wide: float = 0.0

    def at(self, share: Any) -> Any:
        from scipy.special import ndtri

        return np.exp(self.wide * BELOW_MINIMUM + self.spread * ndtri(share))


def givens(
    stated: Stated, loads: Mapping[str, float], tolerances: Mapping[str, float]
) -> tuple[Given, ...]:
    """Every number of a part that is not known exactly.

    Args:
        stated: the part's file.
        loads: how far off the load cases are guessed, two standard deviations [-] by name; `""` for all others.
        tolerances: of dimensions, half the width between limits [mm] by path, in place of the sheet's.

    Returns:
        Sizes, readings, strengths and loads, in this order.
    """
    part = stated.part
    return (*_sizes(part, tolerances), *_readings(stated), *_strengths(part), *_loads(part, loads))


def _sizes(part: Part, tolerances: Mapping[str, float]) -> Iterator[Given]:
    rows = general_deviations(part.drawing.tolerance) or general_deviations(USUAL)
    drawn = _rows(part)
    for one in dimensions(part):
        if one.kind is not LENGTH or one.path.split(".")[0] in NOT_ON_THE_PART or not one.value:
            continue
        value = float(one.value)
        if one.path in tolerances:
            half = tolerances[one.path]
            yield Given(one.path, "size", half, f"±{half:g} mm, as stated")
            continue
        limits = _limits(part, drawn, one.path, value)
        if limits is not None:
            low, high = limits
            said = f"{low:.6g} to {high:.6g} mm by its sheet"
            yield Given(one.path, "size", (high - low) / 2.0, said, (high + low) / 2.0 - value)
            continue
        half = deviation_of(value, rows)
        if half == half:
            yield Given(one.path, "size", half, f"±{half:g} mm, {part.drawing.tolerance or USUAL}")


def _rows(part: Part) -> list[Any]:
    try:
        return [one for drawn in part.drawn() for one in items(part, drawn)]
    except (InputError, ValueError, ArithmeticError, LookupError):
        return []


def _limits(part: Part, drawn: list[Any], path: str, value: float) -> tuple[float, float] | None:
    """The limits of the row of the sheet that is this dimension: it has its size, and moves as it does."""
    alike = [k for k, row in enumerate(drawn) if abs(row.nominal - value) < SAME]
    if not alike:
        return None
    moved = _rows(with_values(part, {path: value + STEP}))
    if len(moved) != len(drawn):
        return None
    found = [drawn[k] for k in alike if abs(moved[k].nominal - value - STEP) < SAME]
    found = [row for row in found if row.low == row.low]
    return (found[0].low, found[0].high) if found else None


def _readings(stated: Stated) -> Iterator[Given]:
    """What the hardpoints that the part takes its dimensions from may be off by."""
    document = read_document(stated.file)
    if not refers_to_build(document):
        return
    build, name = found_in_build(Path(stated.file), document)
    drawn, every = measures(build.bare(name)), roots(build, name)
    joint, covariance = build.read_together(every)
    shared: list[Mapping[str, float]] = []
    for point in [*joint, *(one for one in every if one not in joint)]:
        within = own_error(build, point)
        for k, axis in enumerate("xyz" if within > 0.0 or point in joint else ""):
            moves = slopes(drawn, build, moved(build, point, k), name)
            if point in joint:
                shared.append(moves)
            elif moves:
                said = f"±{within:g} mm at 95 %, hardpoint"
                yield Given(f"{point}, {axis}", "reading", within / 2.0, said, moves=moves)
    yield from _together(joint, covariance, shared)


def _together(
    points: Sequence[str], covariance: np.ndarray, moves: Sequence[Mapping[str, float]]
) -> Iterator[Given]:
    """Points that follow from readings, by the principal axes of what they may be off together, the widest first.

    Args:
        points: their names.
        covariance: of their coordinates [mm2].
        moves: what each dimension moves for each mm of each coordinate [mm or rad].
    """
    values, ways = np.linalg.eigh(covariance)
    paths = list(dict.fromkeys(path for one in moves for path in one))
    for i in np.argsort(-values) if paths else ():
        found = {path: float(sum(way * one.get(path, 0.0) for way, one in zip(ways[:, i], moves, strict=True)))
                 for path in paths}  # fmt: skip
        spread = float(np.sqrt(max(values[i], 0.0)))
        if spread * max(map(abs, found.values())) > SAME:
            chief = int(np.argmax(np.abs(ways[:, i])))
            name = f"readings {len(values) - i}, chiefly {points[chief // 3]}, {'xyz'[chief % 3]}"
            said = f"±{2.0 * spread:.2g} mm at 95 % along a principal axis of all points, by the adjustment"
            yield Given(name, "reading", spread, said, moves=found)


def measures(part: Part) -> dict[str, float]:
    """The lengths [mm] and angles [rad] of a part itself, by path."""
    return {one.path: float(one.value) for one in dimensions(part)
            if one.kind in (LENGTH, ANGLE) and one.path.split(".")[0] not in NOT_ON_THE_PART}  # fmt: skip


def slopes(drawn: Mapping[str, float], build: Build, other: Build, name: str) -> dict[str, float]:
    """What each of these measures of a part moves for each mm that a hardpoint does in another build [mm or rad]."""
    try:
        found = measures(other.bare(name))
    except InputError:  # a rule stands at its very limit
        return {}
    return {path: (found[path] - value) / STEP for path, value in drawn.items()
            if path in found and abs(found[path] - value) > 1e-5 * STEP}  # fmt: skip


def _strengths(part: Part) -> Iterator[Given]:
    places = dict(_metals(part, ""))
    by_name: dict[str, list[str]] = {part.metal.name: [""]}
    for path, metal in places.items():
        if path != "material" and not metal.fit_up_only:
            by_name.setdefault(metal.name, []).append(path)
    every = {part.metal.name: part.metal, **{one.name: one for one in places.values()}}
    for name, paths in by_name.items():
        metal = every[name]
        scatter, source = SCATTER.get(metal.family, OTHER_SCATTER)
        said = f"minimum ({metal.basis}) exceeded by 99 of 100, {scatter:.0%} from heat to heat: {source}"
        yield Given(f"strength of {name}", "strength", scatter, said, paths=tuple(paths))


def _metals(group: Any, path: str) -> Iterator[tuple[str, Material]]:
    for name in type(group).model_fields:
        value, at = getattr(group, name), f"{path}.{name}".lstrip(".")
        many = value if isinstance(value, list | tuple) else [value]
        for i, one in enumerate(many):
            here = at + dotted((i,)) if many is value else at
            if isinstance(one, Material):
                yield here, one
            elif hasattr(type(one), "model_fields"):
                yield from _metals(one, here)


def _loads(part: Part, stated: Mapping[str, float]) -> Iterator[Given]:
    for i, case in enumerate(part.loads):
        known = stated.get(case.name, stated.get("", None))
        off = LOAD_SPREAD if known is None else known
        source = "as stated" if known is not None else "a guess, common practice, no source"
        if off > 0.0:
            said = f"±{off:.0%} at 95 %, {source}"
            yield Given(f"load, {case.name}", "load", off / 2.0, said, case=i)
