"""Hand beside finite elements, number by number, each with its band and the reason for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import resultant
from parts.core.part import Part, Piece
from parts.core.search.result import Result
from parts.core.supports import Along, Held, reach
from parts.proof import hand
from parts.proof.cutting import free_body
from parts.proof.elastic import Solved, reactions, unbalanced
from parts.proof.field import Field, motion, principal, von_mises
from parts.proof.records import Beside, CaseProof, Spot
from parts.proof.refine import Settled
from parts.proof.vibration import buckling
from parts.strength.section.stress import Resultants
from parts.strength.section.stress import von_mises as section_stress

NOMINAL = (0.85, 1.10)
NOMINAL_WHY = (
    "the resultants follow from statics; the share of a branch, the broken edges that the proof leaves out, and "
    "loads spread over a face near the section may take 10 %"
)
ACROSS = (0.0, 1.10)
ACROSS_WHY = (
    "a load or a support lies on both sides of this section, as along a thread or about a bore: by hand all of it "
    "acts beyond, in the solid only its share does, which may be small; only the upper bound says something"
)
SEVERAL = (0.15, 1.10)
SEVERAL_WHY = (
    "by hand several bolts hold the piece by forces alone and its webs share a moment as one section; clamped rings "
    "take moments as well, and the webs work as a frame, so that less comes into the section"
)
PEAK = (0.35, 1.15)
PEAK_WHY = (
    "the hand calculation takes the largest notch factor, that of a pull, on the whole nominal stress, bending and "
    "shear as well, though the notch need not lie where the section is stressed most; above it by more than 15 % it "
    "would not be on the safe side"
)
PEAK_LOW = (0.10, 1.15)
PEAK_LOW_WHY = (
    "as of the nominal stress of this section, and with the notch factor of a hole on all of it"
)
SMOOTH = 1.5
"""Below this notch factor a section counts as smooth: what a weld does beside it is not covered by a notch [-]."""
BESIDE_WELD = (0.0, 2.0)
BESIDE_WELD_WHY = (
    "a weld ends nearer to this section than it is wide: the stress has not spread out evenly yet, as the hand "
    "calculation takes it, and may be twice of it where the weld ends; what lies in the weld's own reach is not "
    "looked at, and the weld's checks cover the metal there"
)
DEFLECTION = (0.75, 1.35)
DEFLECTION_WHY = (
    "bars of Saint-Venant torsion and 6/5 shear against a solid, 20 %; one further length at the root and one where "
    "the load comes in stand for bores, roots and the floor of a fork, and may be half too long or too short"
)
BOLT = (0.40, 2.0)
BOLT_WHY = (
    "a rigid plate on equal springs, the greatest of all loads at once and each alone, against the elastic plate on "
    "a rigid frame, whose rings give by their size: the bolt nearest to a load takes up to twice its share, and "
    "where loads balance each other each alone is on the safe side"
)
COUNTS = 0.25
"""Bolts that take less than this share of the most loaded one are not compared [-]."""
SLAB = 0.35
"""How far before and behind the critical section its peak is looked for, in the root of its area or its least side,
whichever is less [-]."""
ELSEWHERE = 1.15
"""By how much a peak elsewhere must exceed what the critical section has to be pointed out [-]."""


def case_proof(
    part: Part,
    result: Result,
    piece: Piece,
    case: Any,
    held: Held,
    worst: hand.HandSection,
    settled: Settled,
    found: Field,
    k: int,
    looked_at: np.ndarray,
    steady: Solved,
    faces: Sequence[tuple[int, ...]],
) -> CaseProof:
    """Put one load case of a piece together.

    Args:
        part: the part.
        result: its check.
        piece: the piece.
        case: the load case.
        held: how it is held and loaded.
        worst: the critical section by hand.
        settled: the solution.
        found: the solution as numbers.
        k: number of the load case in the solution.
        looked_at: True for the points at which stress is looked at in this case.
        steady: a cheaper solution, for buckling, with what keeps the piece from swaying.
        faces: of each load.

    Returns:
        The proof of the case.
    """
    critical = worst.critical
    section = critical.section
    low, high = hand.outline_box(section)
    middle = (float(section.y), float(section.z))
    fe = free_body(settled.solved, k, critical.place, critical.span.axes, middle, low, high)
    outline = critical.span.outline(np.asarray(critical.t))
    linear = section_stress(outline, Resultants(**fe), piece.material.poisson)
    answers = reactions(settled.solved, k)
    slab = SLAB * min(float(np.sqrt(section.area)), float(np.min(high - low)))
    peak = _peak(found, looked_at)
    at_section = _peak_near(found, looked_at, critical, low, high, slab)
    band, why = (NOMINAL, NOMINAL_WHY), (PEAK, PEAK_WHY)
    if len(held.supports) > 1:
        band, why = (SEVERAL, SEVERAL_WHY), (PEAK_LOW, PEAK_LOW_WHY)
    elif _lies_across(held, critical):
        band, why = (ACROSS, ACROSS_WHY), ((ACROSS[0], PEAK[1]), ACROSS_WHY)
    elif worst.K_t < SMOOTH and _beside_weld(held, critical, float(np.max(high - low))):
        why = (BESIDE_WELD, BESIDE_WELD_WHY)
    beside = [
        Beside(
            "critical section, nominal von Mises stress",
            _exact(critical, piece),
            float(linear.von_mises),
            "MPa",
            *band[0],
            band[1],
        )
    ]
    if at_section is not None:
        beside.append(
            Beside(
                f"peak at the critical section, nominal times K_t {worst.K_t:.2f}",
                worst.notched,
                at_section,
                "MPa",
                *why[0],
                why[1],
            )
        )
    beside += _deflection(result, piece, case, held, settled, k)
    beside += _bolts(held, answers)
    load = _load(held)
    twice = 2.0 * settled.steps[-1].energies[k]
    factor = buckling(steady, k) if held.slender else np.zeros(0)
    return CaseProof(
        case=case.name,
        span=critical.span.name,
        section=_triple(critical.place),
        hand_resultants={n: float(getattr(critical.resultants, n)) for n in fe},
        fe_resultants=fe,
        linear={
            name: float(getattr(linear, name)) for name in ("axial", "bending", "shear", "torsion")
        },
        peak=peak,
        yield_factor=piece.material.yield_strength / peak.mises,
        beside=tuple(beside),
        reactions={name: tuple(float(v) for v in row[:3]) for name, row in answers.items()},
        unbalanced=unbalanced(settled.solved, k),
        moved={
            one.name: _triple(motion(settled.solved, k, f).shift)
            for one, f in zip(held.applied, faces, strict=True)
        },
        stiffness=load**2 / twice,
        buckling=float(factor[0]) if len(factor) else None,
        elsewhere=_elsewhere(peak, at_section, worst),
    )


def _exact(critical: Any, piece: Piece) -> float:
    """The section's stress solved in full: the check itself may state an upper bound."""
    outline = critical.span.outline(np.asarray(critical.t))
    return float(section_stress(outline, critical.resultants, piece.material.poisson).von_mises)


def _triple(row: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in np.asarray(row, float))
    return x, y, z


def _lies_across(held: Held, critical: Any) -> bool:
    """True where a face that is loaded or held reaches from one side of the section to the other."""
    normal = np.asarray(critical.span.axes, float)[0]
    level = float(critical.place @ normal)
    patches = [p for one in (*held.applied, *held.supports) for p in one.patches]
    return any(low < level < high for low, high in (reach(patch, normal) for patch in patches))


def _beside_weld(held: Held, critical: Any, wide: float) -> bool:
    normal = np.asarray(critical.span.axes, float)[0]
    level = float(critical.place @ normal)
    welds = [
        reach(p, normal) for one in (*held.applied, *held.supports) for p in one.patches
        if isinstance(p, Along)
    ]  # fmt: skip
    return any(low - wide < level < high + wide for low, high in welds)


def _peak(found: Field, looked_at: np.ndarray) -> Spot:
    mises = np.where(looked_at, found.mises.ravel(), 0.0)
    i = int(np.argmax(mises))
    stress = found.smooth.reshape(-1, 6)[i]
    return Spot(
        _triple(found.places.reshape(-1, 3)[i]), float(mises[i]), _triple(principal(stress))
    )


def _peak_near(
    found: Field,
    looked_at: np.ndarray,
    critical: Any,
    low: np.ndarray,
    high: np.ndarray,
    slab: float,
) -> float | None:
    """Largest von Mises stress [MPa] in and beside the critical section; None where none is looked at."""
    off = (found.places.reshape(-1, 3) - critical.place) @ np.asarray(critical.span.axes, float).T
    there = (np.abs(off[:, 0]) < slab) & looked_at
    there &= np.all((off[:, 1:] > low) & (off[:, 1:] < high), axis=1)
    if not there.any():
        return None
    return float(von_mises(found.smooth.reshape(-1, 6)[there]).max())


def _load(held: Held) -> float:
    """Size of what acts: the force, or where there is none the moment per mm of the largest."""
    total = sum(
        (np.linalg.norm(resultant(one.actions, np.zeros(3))[0]) ** 2 for one in held.applied), 0.0
    )
    force = sum((resultant(one.actions, np.zeros(3))[0] for one in held.applied), np.zeros(3))
    size = float(np.linalg.norm(force))
    return size if size > 0.05 * np.sqrt(total) else float(np.sqrt(total))


def _deflection(
    result: Result, piece: Piece, case: Any, held: Held, settled: Settled, k: int
) -> list[Beside]:
    if not held.path:
        return []
    load = _load(held)
    by_hand = 2.0 * hand.energy(result, piece.name, held.path, case) / load
    solid = 2.0 * (settled.steps[-1].energies[k] - spring_energy(settled.solved, k)) / load
    # Twice the strain energy over the force.
    what = "deflection in the sense of the load, supports rigid"
    return [Beside(what, by_hand, solid, "mm", *DEFLECTION, DEFLECTION_WHY)]


def spring_energy(solved: Solved, case: int) -> float:
    """Energy in the springs that hold the piece [N*mm]."""
    import ngsolve as ng

    u = solved.moved[case]
    total = 0.0
    for one in solved.solid.springs:
        k = ng.CF(tuple(float(x) for x in np.ravel(one.stiffness)), dims=(3, 3))
        region = solved.meshed.region(one.faces)
        total += 0.5 * float(
            ng.Integrate((k * u) * u, solved.meshed.mesh, definedon=region, order=2 * solved.order)
        )
    return total


def _bolts(held: Held, answers: Any) -> list[Beside]:
    sizes = {name: float(np.linalg.norm(force)) for name, force in held.bolts.items()}
    most = max(sizes.values(), default=0.0)
    return [
        Beside(
            f"{name}, force",
            size,
            float(np.linalg.norm(answers[name][:3])),
            "N",
            *BOLT,
            BOLT_WHY,
        )
        for name, size in sizes.items()
        if size > COUNTS * most
    ]


def _elsewhere(peak: Spot, at_section: float | None, worst: hand.HandSection) -> str:
    if peak.mises <= ELSEWHERE * max(worst.notched, at_section or 0.0):
        return ""
    x, y, z = peak.place
    return (
        f"the highest stress stands elsewhere than in the hand calculation's section: {peak.mises:.0f} MPa at "
        f"({x:.1f}, {y:.1f}, {z:.1f}) mm, where that section has {worst.notched:.0f} MPa with its notch"
    )
