"""Checking a part: every load case, the critical section of each, and the check that governs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Generic, TypeVar

import numpy as np

from parts.core.check import Check, all_hold, check, governing, use_of
from parts.core.fatigue import damage_checks
from parts.core.freebody import Acting, Balance, OutOfBalance, balance
from parts.core.loadpath import Span
from parts.core.loads import LoadCase, point_actions, times
from parts.core.search.critical import NEGLIGIBLE, Critical, Raised, criticals, raised
from parts.core.search.look import Scan, looks, scans
from parts.core.search.subject import Subject
from parts.core.service import warmed
from parts.core.ways import WHOLE, Answer, Kind, answers

SHEAR_BOUNDED = (
    f"shear adds next to nothing: its upper bound is taken, at most {NEGLIGIBLE:.0%} on the safe side, and it is not "
    "solved for"
)
UNFELT = 1e-9
"""Share of an allowable that is rounding."""
SAME_PLACE = 1e-6
"""How far a load acts from what holds the part, where they meet [mm]."""

P = TypeVar("P", bound=Subject)


@dataclass(frozen=True)
class Result(Generic[P]):
    """What the checks of one part say."""

    part: P
    spans: tuple[Span, ...]
    criticals: tuple[Critical, ...]
    checks: tuple[Check, ...]
    raised: tuple[Raised, ...] = ()
    balances: tuple[tuple[LoadCase, Balance], ...] = ()

    @cached_property
    def scans(self) -> tuple[Scan, ...]:
        """The whole load path by its outlines, under every load case; none for a part without loads."""
        return tuple(scans(self.spans, self.part.loads)) if self.spans else ()

    @cached_property
    def answers(self) -> tuple[Answer, ...]:
        """What its checks say to every way of failing of what it holds; none where it names none."""
        kinds = self.part.kinds()
        cycled = any(case.spectrum for case in self.part.loads)
        return answers([Kind(WHOLE), *kinds], self.checks, cycled) if kinds else ()

    @cached_property
    def governing(self) -> Check | None:
        """The check with the largest share of its allowable used; None for a part without loads."""
        return governing(self.checks)

    @cached_property
    def ok(self) -> bool:
        """True where every check reaches its required factor."""
        return all_hold(self.checks)

    @cached_property
    def once(self) -> str:
        """What the bench must do for it to hold, as in "its throat is shimmed"; empty for nothing."""
        return " and ".join(dict.fromkeys(one.once for one in self.checks if one.once))


def check_part(part: P) -> Result[P]:
    """Check a part under all its load cases.

    Args:
        part: the part; its numbers are single values.

    Returns:
        Critical sections, checks, and the loads with what holds against them.

    Raises:
        OutOfBalance: the loads and what holds the part do not sum to nothing.
    """
    spans = tuple(part.spans()) if part.loads else ()
    looked = looks(spans, part.loads) if spans else []
    found = criticals(looked) if looked else []
    checks: list[Check] = []
    holding = [part.holding(case) for case in part.loads]
    for case, worst, held in zip(part.loads, found, holding, strict=True):
        sections = [*warmed(part, section_checks(part, case, worst))]
        modes = [*part.checks_under(case)]
        checks += [*sections, *modes, *_unfelt(part, case, held, sections, modes)]
    checks += warmed(part, part.standing())
    checks += damage_checks(part, found, looked)
    peaks = raised(looked) if looked else []
    balances = tuple(
        (case, one)
        for case, held in zip(part.loads, holding, strict=True)
        for one in _balances(part, case, held)
    )
    return Result(part, spans, tuple(found), tuple(checks), tuple(peaks), balances)


def _unfelt(
    part: Subject,
    case: LoadCase,
    holding: Sequence[Acting],
    sections: Sequence[Check],
    modes: Sequence[Check],
) -> Iterator[Check]:
    """A check that fails for each load case, or load of it, that changes no check: nothing shows that the part bears
    it."""
    at = sorted(set(_into_support(part, case, holding)))
    if at:
        where = f"what acts at {' and '.join(at)} goes straight into what holds the part there"
    elif not any(use_of(one) > UNFELT for one in sections) and not _changes(part, case, modes):
        where = "its loads act where the part is held"
    else:
        return
    yield check("what the load case reaches", "load that reaches nothing", load_case=case.name, demand=1.0,
        capacity=0.0, unit="-", required=1.0,
        note=f"{where}, so that no check feels it: state what acts elsewhere, as the foot on a lever")  # fmt: skip


def _into_support(part: Subject, case: LoadCase, holding: Sequence[Acting]) -> Iterator[str]:
    """The load points at which what holds the part takes more than half of the load back."""
    for one, load in zip(point_actions(case, part.points()), case.forces, strict=True):
        for held in holding:
            if np.linalg.norm(np.subtract(one.at, held.at)) > SAME_PLACE:
                continue
            for acts, back in ((one.force, held.force), (one.moment, held.moment)):
                if -np.dot(acts, back) > 0.5 * np.dot(acts, acts) > 0.0:
                    yield load.at


def _changes(part: Subject, case: LoadCase, modes: Sequence[Check]) -> bool:
    """Whether half the loads change a check; some ask the same under any load, as of a nut that is tightened."""
    half = case.model_copy(update={"forces": times(case.forces, 0.5), "practice": []})
    uses = {one.name: use_of(one) for one in modes}
    return any(
        abs(use_of(one) - uses.get(one.name, 0.0)) > UNFELT for one in part.checks_under(half)
    )


def _balances(part: Subject, case: LoadCase, holding: Sequence[Acting]) -> Iterator[Balance]:
    """What acts on the part under a load case, held against nothing left over; none where the family does not
    say what holds it.

    Raises: OutOfBalance: a force is lost or made up.
    """
    if not holding:
        return
    loads = [
        Acting(one.at, one.force, one.moment, load.at)
        for one, load in zip(point_actions(case, part.points()), case.forces, strict=True)
    ]
    found = balance(f"{part.name} under {case.name!r}", [*loads, *holding])
    if not found.ok:
        raise OutOfBalance(found.error)
    yield found


def section_checks(part: Subject, case: LoadCase, worst: Critical) -> Iterator[Check]:
    """Hold the largest von Mises stress of the critical section against yield and ultimate strength."""
    required = part.factors(case)
    material = worst.span.material
    said = (
        f"{worst.span.name}, section at {_place(worst)}",
        SHEAR_BOUNDED if worst.bounded else "",
        part.left_out_of_the_path(case),
    )
    for name, capacity, factor in (
        ("yield", material.yield_strength, required.on_yield),
        ("ultimate", material.ultimate_strength, required.on_ultimate),
    ):
        yield Check(
            name=f"critical section, {name}",
            mode="combined stress",
            load_case=case.name,
            demand=float(worst.stress.von_mises),
            capacity=capacity,
            unit="MPa",
            required=factor,
            formula="σ_v = √(σ_x² + 3 τ²) with σ_x = N/A + bending about both axes, τ from V and T",
            source="Saint-Venant's theory of bars; von Mises yield criterion (textbook mechanics of materials)",
            given=_inputs(worst),
            note="; ".join(filter(None, said)),
        )


def _inputs(worst: Critical) -> dict[str, float]:
    r, s = worst.resultants, worst.section
    return {
        "N [N]": float(r.N),
        "Vy [N]": float(r.Vy),
        "Vz [N]": float(r.Vz),
        "T [N*mm]": float(r.T),
        "My [N*mm]": float(r.My),
        "Mz [N*mm]": float(r.Mz),
        "A [mm^2]": float(s.area),
        "Iyy [mm^4]": float(s.Iyy),
        "Izz [mm^4]": float(s.Izz),
        "Iyz [mm^4]": float(s.Iyz),
    }


def _place(worst: Critical) -> str:
    x, y, z = (round(float(v), 2) + 0.0 for v in worst.place)
    return f"x {x:g}, y {y:g}, z {z:g} mm"
