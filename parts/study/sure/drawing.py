"""A part's checks over many draws of what is not known exactly: the family's own checks, on arrays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.loads import LoadCase
from parts.core.part import Part
from parts.core.search.result import Result
from parts.core.service import warmed
from parts.inputs.variants import with_values
from parts.study.sure.fitted_path import FittedPath, fitted_path
from parts.study.sure.given import STRENGTHS, Given

TOGETHER = 2000
"""Draws that are calculated with in one go."""
ALONE = 3
"""Draws that are also calculated one by one, to see whether they keep apart."""
ON_THE_PATH = ("critical section, yield", "critical section, ultimate")


@dataclass(frozen=True)
class Row:
    """A check over the draws: factor and required factor, each a number or an array."""

    name: str
    case: str
    factor: Any
    required: Any


class Drawing:
    """The checks of one part as functions of its uncertain numbers; `like` are those of nearly the same part."""

    def __init__(self, part: Part, givens: Sequence[Given], like: Drawing | None = None) -> None:
        self.part, self.like = part, like
        self.left_out: tuple[str, ...] = ()
        self.givens = self._those_in_arrays(givens)

    @cached_property
    def result(self) -> Result[Part]:
        """The check of the part as drawn."""
        return self.part.check()

    def model(self, values: np.ndarray, givens: Sequence[Given] | None = None) -> Part:
        """The part with arrays over draws; or with the numbers of one, where `values` is one row.

        Args:
            values: what `Given.at` gives, shape (givens, draws) or (givens,).
            givens: in place of the own ones.
        """
        sizes: dict[str, Any] = {}
        metals: dict[str, Any] = {}
        loads: dict[int, Any] = {}
        for one, value in zip(self.givens if givens is None else givens, values, strict=True):
            if one.kind == "size":
                sizes[one.name] = sizes.get(one.name, self.stated[one.name]) + value
            elif one.kind == "reading":
                for path, slope in one.moves.items():
                    sizes[path] = sizes.get(path, self.stated[path]) + slope * value
            elif one.kind == "strength":
                metals |= {path: value for path in one.paths}
            else:
                loads[one.case] = value
        places = {p: _stronger(found_at(self.part, p), by) for p, by in metals.items() if p}
        model = with_values(self.part, {**sizes, **places, "loads": self.part.loads})
        # Put in place and not by a copy: a part whose loads follow from its masses would work them out anew.
        model.__dict__["loads"] = [
            _scaled(one, loads.get(k, 1.0)) for k, one in enumerate(model.loads)
        ]
        if "" in metals:
            model.__dict__["metal"] = _stronger(self.part.metal, metals[""])
        return model

    @cached_property
    def stated(self) -> dict[str, float]:
        """Every length of the part as drawn [mm], by path."""
        from parts.study.dimension import dimensions

        return {one.path: float(one.value) for one in dimensions(self.part) if one.kind is not None}

    def _those_in_arrays(self, givens: Sequence[Given]) -> tuple[Given, ...]:
        """The numbers that the family takes arrays of; the others stay as drawn, and are named."""
        if self._takes(givens):
            return tuple(givens)
        kept = list(givens)
        for one in self._culprits([one for one in givens if one.kind == "size"]):
            kept = [other for other in kept if other is not one and one.name not in other.moves]
        for one in self._culprits([one for one in kept if one.kind != "size"]):
            kept.remove(one)
        self.left_out = tuple(one.name for one in givens if one not in kept)
        return tuple(kept)

    def _culprits(self, some: Sequence[Given]) -> list[Given]:
        """Numbers without which the others go: halves of those that fail are tried, down to single ones."""
        if self._takes(some):
            return []
        if len(some) == 1:
            return list(some)
        half = len(some) // 2
        return [*self._culprits(some[:half]), *self._culprits(some[half:])] or list(some)

    def _takes(self, givens: Sequence[Given]) -> bool:
        shares = np.linspace(0.3, 0.7, 3)
        values = np.array([one.at(shares) for one in givens]).reshape(len(givens), 3)
        try:
            model = self.model(values, givens)
            with np.errstate(all="ignore"):
                for _ in self._closed_forms(model):
                    pass
        except (TypeError, ValueError, IndexError):
            return False
        return True

    def rows(self, values: np.ndarray, case: str | None = None) -> Iterator[Row]:
        """Every check over some draws, one after another.

        Args:
            values: what `Given.at` gives, shape (givens, draws).
            case: the load case whose checks are wanted, with those of no load case; all where None.
        """
        model = self.model(values)
        with np.errstate(all="ignore"):
            yield from self._closed_forms(model, case)
            yield from self._on_the_path(model, values, case)

    def apart(self, values: np.ndarray) -> tuple[str, ...]:
        """Checks that stand otherwise for a draw alone than among many: where some rule of a family takes the worst of
        all variants.

        Args:
            values: of some draws, shape (givens, draws).
        """
        with np.errstate(all="ignore"):
            many = list(self._closed_forms(self.model(values)))
            alone = [
                {(row.name, row.case): row.factor for row in self._closed_forms(self.model(values[:, k]))}
                for k in range(min(ALONE, values.shape[1]))
            ]  # fmt: skip
        found = (
            row.name
            for row in many
            for k, one in enumerate(alone)
            if (row.name, row.case) in one
            and not np.isclose(np.broadcast_to(row.factor, values.shape[1:])[k],
                               np.ravel(one[row.name, row.case])[0], rtol=1e-3, equal_nan=True)
        )  # fmt: skip
        return tuple(dict.fromkeys(found))

    @staticmethod
    def _closed_forms(model: Part, only: str | None = None) -> Iterator[Row]:
        for case in model.loads:
            if only is None or case.name == only:
                for one in model.checks_under(case):
                    yield Row(one.name, one.load_case, one.factor, one.required)
        for one in warmed(model, model.standing()):
            yield Row(one.name, one.load_case, one.factor, one.required)

    def _on_the_path(
        self, model: Part, values: np.ndarray, only: str | None = None
    ) -> Iterator[Row]:
        """The stress at the critical section: it goes with the load, and by a fit with the sizes."""
        if only == "":
            return
        shares = self.shares(values)
        for k, (case, worst) in enumerate(zip(model.loads, self.result.criticals, strict=True)):
            if only is not None and case.name != only:
                continue
            metal, required = worst.span.material, model.factors(case)
            over = metal.yield_strength / metal.ultimate_strength
            for name, factor, asked in (
                (ON_THE_PATH[0], 1.0 / shares[k], required.on_yield),
                (ON_THE_PATH[1], 1.0 / (shares[k] * over), required.on_ultimate),
            ):
                yield Row(name, case.name, factor, asked / model.keeps)

    def shares(self, values: np.ndarray) -> np.ndarray:
        """Share of yield that each load case uses at its critical section [-], shape (cases, draws)."""
        values = np.asarray(values, float)
        moved = [k for k, one in enumerate(self.givens) if one.kind in ("size", "reading")]
        found = self.path.shares(values[moved])
        for one, value in zip(self.givens, values, strict=True):
            if one.kind == "load":
                found[one.case] *= value
            elif one.kind == "strength":
                own = [w.span.material.name in one.name for w in self.result.criticals]
                found[own] /= value
        return found

    @cached_property
    def path(self) -> FittedPath:
        """The stress along the load path over sizes and readings."""
        moved, like = self._moved, self.like
        near = (
            like.path
            if like is not None and [o.name for o in like._moved] == [o.name for o in moved]
            else None
        )
        return fitted_path(lambda values: self.model(values, moved), moved, self.result, near)

    @property
    def _moved(self) -> Sequence[Given]:
        return [one for one in self.givens if one.kind in ("size", "reading")]


def _scaled(case: LoadCase, by: Any) -> LoadCase:
    def larger(own: Any) -> Any:
        return np.asarray(by, float)[..., None] * np.asarray(own, float)

    forces = [
        one.model_copy(update={"force": larger(one.force), "moment": larger(one.moment)})
        for one in case.forces
    ]
    return case.model_copy(update={"forces": forces})


def _stronger(metal: Any, by: Any) -> Any:
    return replace(metal, **{name: getattr(metal, name) * by for name in STRENGTHS})


def found_at(part: Any, path: str) -> Any:
    """What stands at a dotted path of a part."""
    from parts.inputs.document import steps_of

    for step in steps_of(path):
        part = part[step] if isinstance(step, int) else getattr(part, str(step))
    return part
