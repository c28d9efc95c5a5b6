"""What a proof says: numbers by hand beside numbers by finite elements, and where they part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from parts.proof.bands import BANDS, BUCKLING
from parts.strength.section.outline import Array

if TYPE_CHECKING:
    from parts.proof.skin import Skin

COVERS_NOT = (
    "contact, friction and play (loads come in as stated pressures, supports as springs)",
    "plasticity, large displacements, residual stress",
    "fatigue, and anything but static loads",
    "the error of a peak by itself: elements about it are divided until it changes by no more than 4 %, three times at "
    "most; where a peak decides, prove with --error 0.5",
)


@dataclass(frozen=True)
class Beside:
    """One number by hand and by finite elements, of the kind that `parts.proof.bands` names.

    `low` and `high` bound finite elements over hand [-]; `at` is where the elements have theirs [mm].
    """

    what: str
    hand: float
    fe: float
    unit: str
    low: float
    high: float
    why: str
    kind: str = ""
    at: tuple[float, float, float] | None = None

    @property
    def ratio(self) -> float:
        """Finite elements over hand [-]."""
        return self.fe / self.hand if self.hand else float("inf")

    @property
    def ok(self) -> bool:
        """True within the band."""
        return self.low <= self.ratio <= self.high

    @property
    def unsafe(self) -> bool:
        """True where the hand calculation promises more than the elements give, or is not a number."""
        return not (self.ratio >= self.low if self.kind == BUCKLING else self.ratio <= self.high)

    @property
    def verdict(self) -> str:
        """The place, both values, which of them to believe, and what to change."""
        place = "" if self.at is None else " at ({:.1f}, {:.1f}, {:.1f}) mm".format(*self.at)
        said = f"{self.what}{place}: by hand {self.hand:.4g}, elements {self.fe:.4g} {self.unit}; "
        if self.ok:
            return said + "they agree"
        if self.unsafe:
            change = BANDS[self.kind].change if self.kind in BANDS else "change the part there"
            return f"{said}believe the elements: {change}"
        return f"{said}the check is on the safe side and costs weight there"


@dataclass(frozen=True)
class Spot:
    """A place [mm] and the stresses there [MPa]: von Mises, and principal ones, the least first."""

    place: tuple[float, float, float]
    mises: float
    principal: tuple[float, float, float]


@dataclass(frozen=True)
class CaseProof:
    """One piece under one load case; `points` (n, 4) are places [mm] and the von Mises stress there [MPa], of each
    neighbourhood the highest."""

    case: str
    span: str
    section: tuple[float, float, float]
    hand_resultants: Mapping[str, float]
    fe_resultants: Mapping[str, float]
    linear: Mapping[str, float]
    peak: Spot
    yield_factor: float
    beside: tuple[Beside, ...]
    reactions: Mapping[str, tuple[float, ...]]
    unbalanced: float
    moved: Mapping[str, tuple[float, float, float]]
    stiffness: float
    buckling: float | None
    elsewhere: str = ""
    points: Array = field(default_factory=lambda: np.zeros((0, 4)), repr=False, compare=False)

    @property
    def outside(self) -> tuple[Beside, ...]:
        return tuple(one for one in self.beside if not one.ok)


@dataclass(frozen=True)
class PieceProof:
    """One piece under every load case, with what was solved for it; `unsettled` says what was looked for in vain."""

    piece: str
    material: str
    E: float
    nu: float
    unknowns: int
    elements: int
    order: int
    error: float
    errors: tuple[tuple[int, float], ...]
    stopped: str
    reached: bool
    seconds: float
    cases: tuple[CaseProof, ...]
    frequencies: tuple[float, ...]
    notes: tuple[str, ...] = ()
    unsettled: str = ""


@dataclass(frozen=True)
class Proof:
    """One part: its pieces, or why they could not be proved; its pictures by file name, and the skins of its pieces."""

    part: str
    pieces: tuple[PieceProof, ...]
    failed: tuple[str, ...] = ()
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    seconds: float = 0.0
    memory_mb: float = 0.0
    skins: tuple[Skin, ...] = ()

    @property
    def ok(self) -> bool:
        """True where no hand value is on the unsafe side of its band and no piece failed."""
        return not self.failed and not any(one.unsafe for _, _, one in self.disagreements())

    def disagreements(self) -> Iterator[tuple[PieceProof, CaseProof, Beside]]:
        """Every number outside its band."""
        for piece in self.pieces:
            for case in piece.cases:
                for one in case.outside:
                    yield piece, case, one
