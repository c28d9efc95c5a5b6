"""The proof as a person reads it: what disagrees at the top, then hand beside finite elements, case by case."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from parts.core.cautions import IN_SHORT
from parts.inputs.units import MPA_PER_KSI
from parts.proof.bands import band_of
from parts.proof.records import COVERS_NOT, CaseProof, PieceProof, Proof
from parts.proof.refine import ESTIMATE


def text_of(proof: Proof) -> str:
    """The proof as text."""
    return "\n".join([*_lines(proof), "", *textwrap.wrap(IN_SHORT, 100)]) + "\n"


def headline(proof: Proof) -> str:
    """One line: whether hand and finite elements agree."""
    outside = list(proof.disagreements())
    if proof.failed and not proof.pieces:
        return f"{proof.part} is not proved"
    cases = sum(len(piece.cases) for piece in proof.pieces)
    worst = max((piece.error for piece in proof.pieces), default=0.0)
    some = f"{count(len(proof.pieces), 'piece')} under {count(cases, 'load case')}"
    said = f"{proof.part}: {some}, strain energy within {worst**2:.1%}"
    unsafe = sum(one.unsafe for _, _, one in outside)
    safe = len(outside) - unsafe
    beside = f"; {count(safe, 'number')} on the safe side by more than its band" if safe else ""
    if unsafe:
        return f"{said}; HAND AND FINITE ELEMENTS DISAGREE in {count(unsafe, 'number')} on the unsafe side{beside}"
    return f"{said}; hand and finite elements agree within their bands{beside}"


def count(number: int, what: str) -> str:
    """So many of something."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def summary(proof: Proof) -> Iterator[str]:
    """What belongs at the top of a report: the headline, what is not proved, what disagrees, what stands elsewhere."""
    yield headline(proof)
    for text in proof.failed:
        yield f"not proved: {text}"
    for piece in proof.pieces:
        if piece.unsettled:
            yield f"{piece.piece}: {piece.unsettled}"
    for piece, case, one in sorted(proof.disagreements(), key=lambda row: not row[2].unsafe):
        yield f"{piece.piece}, {case.case}: {one.verdict}"
    for piece in proof.pieces:
        if not piece.reached:
            yield (
                f"  {piece.piece}: the error asked for was not reached: {piece.error**2:.1%} of the strain energy; "
                f"stopped: {piece.stopped}"
            )
    for piece in proof.pieces:
        for case in piece.cases:
            if case.elsewhere:
                yield f"{piece.piece}, {case.case}: {case.elsewhere}"


def _lines(proof: Proof) -> Iterator[str]:
    first, *others = summary(proof)
    yield first
    yield from (f"  {sentence}" for sentence in others)
    for piece in proof.pieces:
        yield ""
        yield from _piece(piece)
    if proof.pieces:
        yield ""
        yield "Outside edges are taken sharp, without their edge breaks, by hand as well."
        yield "Not covered: " + "; ".join(COVERS_NOT) + "."
        yield f"Error estimate: {ESTIMATE}."
        yield f"{proof.seconds:.1f} s, {proof.memory_mb:.0f} MB at most."


def _piece(piece: PieceProof) -> Iterator[str]:
    yield (
        f"{piece.piece}: {piece.material}, isotropic, E = {piece.E:.0f} MPa, ν = {piece.nu:g}; {piece.elements} curved "
        f"elements of order {piece.order}, {piece.unknowns} unknowns"
    )
    way = ", ".join(f"{n}: {e:.1%}" for n, e in piece.errors)
    yield (
        f"  error {piece.error:.1%} in the energy norm, {piece.error**2:.2%} of the strain energy ({way}); "
        f"stopped: {piece.stopped}"
    )
    yield f"  first natural frequencies on its supports: {', '.join(f'{f:.0f}' for f in piece.frequencies)} Hz"
    for note in piece.notes:
        yield f"  {note}"
    for case in piece.cases:
        yield ""
        yield from _case(case)


def _case(case: CaseProof) -> Iterator[str]:
    x, y, z = case.section
    yield f"  {case.case}: critical section by hand at {case.span}, ({x:.1f}, {y:.1f}, {z:.1f}) mm"
    yield f"    {'':58} {'hand':>11} {'FE':>11}       FE/hand  band"
    for one in case.beside:
        mark = "ok" if one.ok else "OUTSIDE"
        yield (
            f"    {one.what[:58]:58} {one.hand:11.4g} {one.fe:11.4g} {one.unit:4} {one.ratio:8.2f}  "
            f"{band_of(one.low, one.high)} {mark}"
        )
    for name, hand in case.hand_resultants.items():
        unit = "N" if name in ("N", "Vy", "Vz") else "N*mm"
        yield f"    {name:58} {hand:11.4g} {case.fe_resultants[name]:11.4g} {unit}"
    linear = ", ".join(f"{name} {value:.1f}" for name, value in case.linear.items())
    yield f"    linearised across it: {linear} MPa"
    x, y, z = case.peak.place
    yield (
        f"    peak away from supports and sharp inward edges: {case.peak.mises:.1f} MPa "
        f"({case.peak.mises / MPA_PER_KSI:.2f} ksi) at ({x:.1f}, {y:.1f}, {z:.1f}) mm, "
        f"factor {case.yield_factor:.2f} on yield"
    )
    low, middle, high = case.peak.principal
    yield f"    principal stresses there: {high:.1f}, {middle:.1f}, {low:.1f} MPa"
    yield f"    stiffness in the sense of the load, supports included: {case.stiffness:.4g} N/mm"
    if case.buckling is not None:
        yield f"    first buckling factor: {case.buckling:.2f}"
    for name, (fx, fy, fz) in case.reactions.items():
        yield f"    {name} holds with ({fx:.0f}, {fy:.0f}, {fz:.0f}) N"
    for name, (ux, uy, uz) in case.moved.items():
        yield f"    {name} moves by ({ux:.4f}, {uy:.4f}, {uz:.4f}) mm"
    yield f"    loads and reactions balance to {case.unbalanced:.0e}"


def bands(proof: Proof) -> str:
    """Why each band is what it is, once each."""
    reasons = {
        one.why: one for piece in proof.pieces for case in piece.cases for one in case.beside
    }
    return "\n".join(f"band {band_of(one.low, one.high)}: {why}" for why, one in reasons.items())
