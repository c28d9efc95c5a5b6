"""Hand beside finite elements, number by number, each with its band and the reason for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import LoadCase, resultant
from parts.core.part import Part, Piece
from parts.core.search.critical import Critical, Looked, peaks_of
from parts.core.search.result import Result
from parts.core.supports import Held, reach
from parts.proof import hand
from parts.proof.bands import BANDS, BOLT, BUCKLING, DEFLECTION, HIGHEST, NOTCH, SECTION
from parts.proof.cutting import free_body
from parts.proof.elastic import Solved, reactions, unbalanced
from parts.proof.field import motion
from parts.proof.peaks import Points, Stressed, within
from parts.proof.records import Beside, CaseProof, Spot
from parts.proof.refine import Settled
from parts.strength.section.stress import Resultants
from parts.strength.section.stress import von_mises as section_stress

COUNTS = 0.25
"""Bolts that take less than this share of the most loaded one are not compared [-]."""
ELSEWHERE = 1.15
"""By how much a peak elsewhere must exceed what the critical section has to be pointed out [-]."""


def case_proof(
    part: Part,
    result: Result,
    piece: Piece,
    case: Any,
    held: Held,
    looked: Sequence[Looked],
    settled: Settled,
    found: Stressed,
    k: int,
    factor: float | None,
    faces: Sequence[tuple[int, ...]],
) -> CaseProof:
    """Put one load case of a piece together.

    Args:
        part: the part.
        result: its check.
        piece: the piece.
        case: the load case.
        held: how it is held and loaded.
        looked: the spans of the piece, looked at by hand.
        settled: the solution.
        found: the stress where it is looked at in this case.
        k: number of the load case in the solution and in the part.
        factor: first buckling factor by the elements; None where it was not asked for.
        faces: of each load.

    Returns:
        The proof of the case.
    """
    number = [one.name for one in part.loads].index(case.name)
    critical = hand.clear_of(looked, number, lambda one: _lies_across(held, one)).critical
    section = critical.section
    low, high = hand.outline_box(section)
    middle = (float(section.y), float(section.z))
    fe = free_body(settled.solved, k, critical.place, critical.span.axes, middle, low, high)
    outline = critical.span.outline(np.asarray(critical.t))
    linear = section_stress(outline, Resultants(**fe), piece.material.poisson)
    answers = reactions(settled.solved, k)
    peak = found.peak()
    energy = settled.steps[-1].energies[k] - spring_energy(settled.solved, k) if held.path else 0.0
    load = _load(held)
    elements = Elements(critical, fe, answers, 2.0 * energy / load if held.path else None, factor)
    beside, known = beside_elements(result, piece, case, held, looked, found, elements)
    twice = 2.0 * settled.steps[-1].energies[k]
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
        beside=beside,
        reactions={name: tuple(float(v) for v in row[:3]) for name, row in answers.items()},
        unbalanced=unbalanced(settled.solved, k),
        moved={
            one.name: _triple(motion(settled.solved, k, f).shift)
            for one, f in zip(held.applied, faces, strict=True)
        },
        stiffness=load**2 / twice,
        buckling=factor,
        elsewhere=_elsewhere(peak, known),
        points=found.thinned(),
    )


class Elements(NamedTuple):
    """What the elements found of a piece under a case besides its stress.

    `section` is where they were asked for the `resultants` [N, N*mm], None where it is no section of the part any
    more; `answers` are forces and moments of each support by its name, `deflection` [mm] how far the load moves in its
    own sense with rigid supports, `factor` the first buckling factor; None where they were not asked.
    """

    section: Critical | None
    resultants: Mapping[str, float]
    answers: Mapping[str, Any]
    deflection: float | None
    factor: float | None


def beside_elements(
    result: Result,
    piece: Piece,
    case: LoadCase,
    held: Held,
    looked: Sequence[Looked],
    found: Points,
    elements: Elements,
) -> tuple[tuple[Beside, ...], tuple[str, float]]:
    """Put every number that both sides have beside each other.

    Args:
        result: the check of the part.
        piece: the piece.
        case: the load case.
        held: how it is held and loaded.
        looked: the spans of the piece, looked at by hand.
        found: the stress by the elements.
        elements: what else they found.

    Returns:
        The numbers, and the highest stress in the piece that any check knows: what it is, and its size [MPa].
    """
    number = [one.name for one in result.part.loads].index(case.name)
    beside: list[Beside] = []
    at = elements.section
    if at is not None and not _lies_across(held, at):
        outline = at.span.outline(np.asarray(at.t))
        linear = section_stress(outline, Resultants(**elements.resultants), piece.material.poisson)
        what = f"nominal stress, {at.span.name}"
        fe = float(linear.von_mises)
        beside = [_beside(SECTION, what, _exact(at, piece), fe, "MPa", _triple(at.place))]
    places = hand.spots(result, piece, case)
    notches = hand.notches(looked, number, places)
    for one in notches:
        spot = found.in_stretch(one) if one.stated else None
        if spot is not None:
            what = f"notch, {one.critical.span.name}, K_t {one.K_t:.2f}"
            beside.append(_beside(NOTCH, what, one.peak, spot[0], "MPa", spot[1]))
    for place in places:
        # Where another place that bears more reaches into this one, as a window's corner into the plate beside a boss,
        # the elements' peak is that of the other.
        more = [one.around for one in places if one.around and one.peak > place.peak]
        spot = None if place.around is None else found.about(place.around, more)
        if spot is not None:
            what = f"notch, {place.name}"
            peak = _known_about(looked, number, place)
            beside.append(_beside(NOTCH, what, peak, spot[0], "MPa", spot[1]))
    known, top = hand.worst_known(result, piece, case, notches, places, looked), found.highest()
    what = f"highest peak, beside {known[0]}"
    beside.append(_beside(HIGHEST, what, known[1], top[0], "MPa", top[1]))
    if elements.deflection is not None and held.path:
        by_hand = 2.0 * hand.energy(result, piece.name, held.path, case) / _load(held)
        what = "deflection in the sense of the load, supports rigid"
        beside.append(_beside(DEFLECTION, what, by_hand, elements.deflection, "mm"))
    beside += _bolts(held, elements.answers)
    return (*beside, *_buckling(result, case, elements.factor)), known


def _known_about(looked: Sequence[Looked], k: int, place: hand.HandSpot) -> float:
    """The highest peak that is known in the cylinder about a place under load case k: its own, and that of sections
    which run through it [MPa]."""
    found = [place.peak]
    for one in looked if place.around else ():
        inside = within(one.span.place(one.t), *place.around)
        if np.any(inside):
            found.append(
                float(np.max(np.nan_to_num(peaks_of(one, one.t, one.stress).peak[k][inside])))
            )
    return max(found)


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


def _load(held: Held) -> float:
    """Size of what acts: the force, or where there is none the moment per mm of the largest."""
    total = sum(
        (np.linalg.norm(resultant(one.actions, np.zeros(3))[0]) ** 2 for one in held.applied), 0.0
    )
    force = sum((resultant(one.actions, np.zeros(3))[0] for one in held.applied), np.zeros(3))
    size = float(np.linalg.norm(force))
    return size if size > 0.05 * np.sqrt(total) else float(np.sqrt(total))


def spring_energy(solved: Solved, case: int) -> float:
    """Energy in the springs that hold the piece [N*mm]."""
    return 0.5 * spring_work(solved, solved.moved[case], solved.moved[case])


def spring_work(solved: Solved, one: Any, other: Any) -> float:
    """What the springs' forces under one displacement do along another [N*mm]."""
    import ngsolve as ng

    total = 0.0
    for spring in solved.solid.springs:
        k = ng.CF(tuple(float(x) for x in np.ravel(spring.stiffness)), dims=(3, 3))
        region = solved.meshed.region(spring.faces)
        total += float(
            ng.Integrate(
                (k * one) * other, solved.meshed.mesh, definedon=region, order=2 * solved.order
            )
        )
    return total


def _bolts(held: Held, answers: Any) -> list[Beside]:
    """Shear and pull of each bolt; what it is pressed with stands on the frame and not on the bolt."""
    rows = []
    for name, one in held.bolts.items():
        force, away = -np.asarray(answers[name][:3]), np.asarray(one.away, float)
        pull = float(force @ away)
        rows.append((f"{name}, shear", one.shear, float(np.linalg.norm(force - pull * away))))
        rows.append((f"{name}, pull", one.pull, max(pull, 0.0)))
    most = max((max(row[1:]) for row in rows), default=0.0)
    return [
        _beside(BOLT, what, by_hand, fe, "N")
        for what, by_hand, fe in rows
        if max(by_hand, fe) > COUNTS * most
    ]


def _buckling(result: Result, case: Any, factor: float | None) -> list[Beside]:
    """The first buckling factor beside the least factor of the case's checks of buckling."""
    by_hand = [
        (float(one.factor), one.name)
        for one in result.checks
        if one.load_case == case.name and "buckl" in one.mode and np.isfinite(one.factor)
    ]
    if factor is None or not by_hand:
        return []
    least, name = min(by_hand)
    return [_beside(BUCKLING, f"first buckling factor, beside {name}", least, factor, "-")]


def _beside(kind: str, what: str, by_hand: float, fe: float, unit: str, at: Any = None) -> Beside:
    return Beside(what, by_hand, fe, unit, *BANDS[kind][:3], kind, at)


def _elsewhere(peak: Spot, known: tuple[str, float]) -> str:
    if peak.mises <= ELSEWHERE * known[1]:
        return ""
    x, y, z = peak.place
    return (
        f"the highest stress stands where no check looks: {peak.mises:.0f} MPa at ({x:.1f}, {y:.1f}, {z:.1f}) mm, "
        f"where the worst that the checks know is {known[1]:.0f} MPa ({known[0]})"
    )
