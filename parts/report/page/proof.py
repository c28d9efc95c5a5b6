"""The proof on the page of a part: hand beside finite elements, how exact it is, and the stress to be turned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from parts.core.figures import figure
from parts.inputs.units import MPA_PER_KSI
from parts.proof.bands import band_of
from parts.proof.records import COVERS_NOT, PieceProof, Proof
from parts.report.page.html import Html, data_uri, joined, table, tag
from parts.report.page.stressed import stress_viewer
from parts.report.page.stresses import triple
from parts.report.proof.text import headline

if TYPE_CHECKING:
    from parts.making.picture import View

LINEAR = ("axial", "bending", "shear", "torsion")
SHARE = 1e-3
"""Smaller shares of the largest reaction are shown as zero [-]: they are rounding."""


def proof_verdict(proof: Proof) -> Html:
    """Whether hand and finite elements agree, for the head of the page: each number that does not is named there."""
    outside = [
        tag("li", f"{piece.piece}, {case.case}: {one.verdict}")
        for piece, case, one in proof.disagreements()
    ]
    failed = [tag("li", f"not proved: {text}") for text in proof.failed]
    kind = "holds" if proof.ok else "short"
    sign = "✓" if proof.ok else "✗"
    more = tag("ul", *outside, *failed) if outside or failed else None
    said = tag(
        "p",
        tag("span", f"{sign} ", class_=kind),
        headline(proof),
        ". ",
        tag("a", "The proof.", href="#proof"),
    )
    return tag("div", said, more, class_=f"verdict {kind}")


def proof_section(proof: Proof, view: View) -> Html:
    """All that a proof says.

    Args:
        proof: the proof.
        view: from where the part is seen first.

    Returns:
        What stands under the heading.
    """
    return joined(
        tag("p", headline(proof), "."),
        tag("ul", *[tag("li", f"not proved: {text}") for text in proof.failed])
        if proof.failed
        else None,
        *[_piece(proof, one, number, view) for number, one in enumerate(proof.pieces, 1)],
        *_end(proof),
    )


def _piece(proof: Proof, piece: PieceProof, number: int, view: View) -> Html:
    skins = [one for one in proof.skins if one.piece == piece.piece]
    drawn = {
        name: content
        for name, content in proof.pictures.items()
        if name.startswith(f"proof-{piece.piece}")
    }
    still = next(iter(drawn.values()), None)
    first = (
        tag("img", src=data_uri("image/png", still), alt=f"{piece.piece}, von Mises stress")
        if still
        else None
    )
    return joined(
        tag("h3", f"{piece.piece}, {piece.material}"),
        *_elsewhere(piece),
        _beside(piece),
        stress_viewer(skins[0], view, number, first) if skins else None,
        _pictures(piece, drawn),
        _exact(piece),
        _peaks(piece),
        _reactions(piece),
        _moved(piece),
        tag("ul", *[tag("li", note[:1].upper() + note[1:] + ".") for note in piece.notes]) if piece.notes else None,
    )  # fmt: skip


def _elsewhere(piece: PieceProof) -> Iterator[Html]:
    for case in piece.cases:
        if case.elsewhere:
            yield tag("p", tag("b", f"{case.case}: "), case.elsewhere, ".")


def _beside(piece: PieceProof) -> Html:
    rows = [
        [
            f"{k} {case.case}", one.what, figure(one.hand), figure(one.fe), one.unit, f"{one.ratio:.2f}",
            band_of(one.low, one.high),
            tag("span", "✓ within" if one.ok else "✗ OUTSIDE", class_="holds" if one.ok else "short"),
        ]
        for k, case in enumerate(piece.cases, 1)
        for one in case.beside
    ]  # fmt: skip
    head = ["load case", "what", "by hand", "by FE", "unit", "FE / hand", "band", "verdict"]
    return table(f"{piece.piece}: hand beside finite elements", head, rows, numbers=(2, 3, 5, 6))


def _pictures(piece: PieceProof, drawn: Mapping[str, bytes]) -> Html | None:
    said = {
        "": "on the deformed shape, the load case with the highest stress",
        "-back": "the same from behind",
        "-cut": "the critical section of the hand calculation cut open, not deformed",
    }
    stills = [
        tag(
            "figure",
            tag("img", src=data_uri("image/png", drawn[name]), alt=f"{piece.piece}: von Mises stress, {what}"),
            tag("figcaption", f"Von Mises stress {what}."),
        )
        for end, what in said.items()
        if (name := f"proof-{piece.piece}{end}.png") in drawn
    ]  # fmt: skip
    return tag("div", *stills, class_="pictures large") if stills else None


def _exact(piece: PieceProof) -> Html:
    rows = [
        [f"{n}", f"{unknowns}", f"{error:.1%}", f"{error**2:.2%}"]
        for n, (unknowns, error) in enumerate(piece.errors, 1)
    ]
    head = ["step", "unknowns", "error in the energy norm", "of the strain energy"]
    said = (
        f"Estimated error of {piece.piece}: {piece.elements} curved elements of order {piece.order}, "
        f"isotropic, E = {piece.E:.0f} MPa, ν = {piece.nu:g}; stopped: {piece.stopped}"
    )
    return table(said, head, rows, numbers=(0, 1, 2, 3))


def _peaks(piece: PieceProof) -> Html:
    rows = [
        [
            f"{k} {case.case}", f"{case.peak.mises:.1f}", f"{case.peak.mises / MPA_PER_KSI:.2f}",
            triple(np.round(case.peak.place, 1)), ", ".join(f"{v:.0f}" for v in reversed(case.peak.principal)),
            f"{case.yield_factor:.2f}", *(f"{round(case.linear[name], 1) + 0.0:.1f}" for name in LINEAR),
            "" if case.buckling is None else f"{case.buckling:.1f}",
        ]
        for k, case in enumerate(piece.cases, 1)
    ]  # fmt: skip
    head = ["load case", "peak, MPa", "ksi", "at (x, y, z in mm)", "principal, MPa", "yield / peak"]
    head += [*LINEAR, "buckling"]
    caption = (
        "Peak von Mises stress away from supports and sharp inward edges, and the stress linearised across the "
        "critical section [MPa]"
    )
    return joined(
        table(caption, head, rows, numbers=(1, 2, 5, 6, 7, 8, 9, 10)),
        tag(
            "p", "First natural frequencies on its supports: "
            f"{', '.join(f'{f:.0f}' for f in piece.frequencies)} Hz.",
        ),
    )  # fmt: skip


def _reactions(piece: PieceProof) -> Html:
    most = max(
        (abs(v) for case in piece.cases for row in case.reactions.values() for v in row),
        default=0.0,
    )
    rows = [
        [f"{k} {case.case}", name, *(_rounded(v, most) for v in row), _rounded(float(np.linalg.norm(row)), most),
         f"{case.unbalanced:.0e}"]
        for k, case in enumerate(piece.cases, 1)
        for name, row in case.reactions.items()
    ]  # fmt: skip
    head = ["load case", "held by", "Fx, N", "Fy, N", "Fz, N", "together, N", "out of balance"]
    caption = "What each bolt, bore, thread or weld holds with"
    return table(caption, head, rows, numbers=(2, 3, 4, 5, 6))


def _rounded(value: float, most: float) -> str:
    return f"{value:.0f}" if abs(value) > SHARE * most else "0"


def _moved(piece: PieceProof) -> Html:
    rows = [
        [f"{k} {case.case}", name, *(f"{v:.4f}" for v in row), f"{float(np.linalg.norm(row)):.4f}",
         figure(case.stiffness)]
        for k, case in enumerate(piece.cases, 1)
        for name, row in case.moved.items()
    ]  # fmt: skip
    head = ["load case", "where the load is", "x, mm", "y, mm", "z, mm", "together, mm"]
    head += ["stiffness in the sense of all loads, N/mm"]
    return table("How far the loads move, supports included", head, rows, numbers=(2, 3, 4, 5, 6))


def _end(proof: Proof) -> Iterator[Html]:
    if not proof.pieces:
        return
    yield tag("h3", "What the proof does not cover")
    yield tag("ul", *[tag("li", one) for one in _not_covered()])
    bands = {one.why: one for piece in proof.pieces for case in piece.cases for one in case.beside}
    why = [
        tag("li", f"{band_of(one.low, one.high)}: {text}.") for text, one in sorted(bands.items())
    ]
    yield tag("details", tag("summary", "Why each band is what it is"), tag("ul", *why))


def _not_covered() -> Sequence[str]:
    return (*COVERS_NOT, "edge breaks: outside edges are taken sharp, by hand as well")
