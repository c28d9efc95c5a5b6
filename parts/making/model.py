"""From a part to its files: build the solid, prove that it is the part that was checked, write."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from parts.core.loadpath import Span
from parts.core.part import Part, Piece
from parts.core.search.critical import Critical
from parts.core.search.result import Result, section_checks
from parts.core.service import warmed
from parts.inputs.problems import InputError
from parts.making.bench.measured import measured
from parts.making.kept import solids_bytes
from parts.shapes.cut import contour, cut
from parts.shapes.volume import volume as volume_of
from parts.strength.section.outline import Boundary
from parts.strength.section.properties import Section, properties
from parts.strength.section.stress import von_mises

SHARP = 1e-6
"""Band of the cut against the outline where the solid has no edge breaks or fillets [-]: rounding only."""
SOFTENED = 0.02
"""The same where it has them [-]: the outline may leave out a break or the run-out of a fillet."""
NUDGE = 2e-4
"""How far a cut keeps from the ends of its span [-]: there the plane may lie in a face of the solid."""
SHIFTS = (0.0, 0.006, -0.006, 0.013, -0.013, 0.027, -0.027, 0.05, -0.05)
"""How far from a station the cut is tried where the kernel finds none, as shares of the span [-]."""
NEIGHBOUR = 0.02
"""Distance of the neighbouring cuts, as a share of the span [-]."""


class MakeError(Exception):
    """The solid could not be made, or it is not the part that was checked."""


@dataclass(frozen=True)
class Cut:
    """A critical section as it was cut from the finished solid, held against the outline of the check."""

    critical: Critical
    boundary: Boundary
    section: Section
    difference: float
    band: float


@dataclass(frozen=True)
class Made:
    """A part that was made: the result with its sections cut from the solid, the files written, and those that went.

    `solids` is the kernel's own binary of its pieces as they were built: cuts and meshes move their last bits.
    """

    result: Result
    cuts: tuple[Cut, ...]
    volume: Mapping[str, float]
    mass: float
    files: list[Path]
    gone: tuple[str, ...] = ()
    solids: bytes = b""


def model(part: Part) -> Made:
    """Build a part's solids, cut them at the critical sections and check the part by those cuts.

    Every hole and dimension that the part states for its drawing is measured on the solids too, whether or
    not a drawing is asked for: a small hole may be missing with no critical section that tells.

    Args:
        part: the part.

    Returns:
        What was made, nothing written yet.

    Raises:
        MakeError: as `make_part`.
    """
    result = part.check()
    pieces = _sound(part)
    solids = solids_bytes(part.pieces)
    cuts = tuple(_cuts(part, pieces, result.criticals))
    _as_drawn(part, pieces)
    volume = {name: volume_of(piece.solid.val()) for name, piece in pieces.items()}
    mass = sum(volume[name] * piece.material.density for name, piece in pieces.items())
    return Made(_by_cuts(result, cuts), cuts, volume, mass, [], solids=solids)


def _sound(part: Part) -> dict[str, Piece]:
    try:
        pieces = {piece.name: piece for piece in part.pieces}
    except InputError:
        raise  # what the system lacks is no fault of the part
    except Exception as error:  # the kernel raises many kinds, none of which a builder can act on
        raise MakeError(f"{part.name}: the solid could not be built ({error})") from error
    for piece in pieces.values():
        solids = piece.solid.solids().vals()
        if len(solids) != 1 or not solids[0].isValid() or solids[0].Volume() <= 0.0:
            raise MakeError(
                f"{part.name}: {piece.name} came out as {len(solids)} solids or a broken one; "
                "change the dimension moved last, or report these dimensions as a fault of the library"
            )
    return pieces


def _cuts(part: Part, pieces: Mapping[str, Piece], criticals: Sequence[Critical]) -> Iterator[Cut]:
    """The cuts at the critical sections; where several load cases share a place it is cut once."""
    known: dict[tuple[int, float], Cut] = {}
    for worst in criticals:
        place = id(worst.span), float(worst.t)
        if place not in known:
            known[place] = _held(part, pieces, worst)
        yield replace(known[place], critical=worst)


def _held(part: Part, pieces: Mapping[str, Piece], worst: Critical) -> Cut:
    """Cut at the critical section and beside it, and hold each cut against the outline there."""
    band = SOFTENED if part.softened else SHARP
    span = worst.span
    here = float(np.clip(worst.t, NUDGE, 1.0 - NUDGE))
    near = [t for t in (here - NEIGHBOUR, here + NEIGHBOUR) if NUDGE <= t <= 1.0 - NUDGE]
    solid = pieces[span.piece].solid
    boundary, section, difference = compared(span, solid, here)
    difference = max([difference, *(compared(span, solid, t)[2] for t in near)])
    if not difference <= band:
        raise MakeError(
            f"{part.name}: at {span.name} the solid differs from the section that was checked by "
            f"{difference:.2%}, where {band:.4%} is allowed, so the calculation is not about this part; "
            "make the edge breaks and fillets there smaller, or report these dimensions as a fault"
        )
    return Cut(worst, boundary, section, difference, band)


def _as_drawn(part: Part, pieces: Mapping[str, Piece]) -> None:
    """Measure on the finished solids all that the part states of itself in numbers."""
    for drawn in part.drawn():
        found = measured(drawn.marks, pieces[drawn.piece].solid.val())
        wrong = [one.words() for one in found if not one.ok]
        if wrong:
            raise MakeError(
                f"{part.name}: {drawn.piece} is not as its drawing states it: {'; '.join(wrong)}; change the "
                "dimension moved last, or report these dimensions as a fault of the library"
            )


def compared(span: Span, solid: Any, t: float) -> tuple[Boundary, Section, float]:
    """Cut a solid at a station and hold the cut against the outline there.

    Near the axis of a small countersunk cross hole the kernel sometimes cuts nothing; the nearest station
    where it does is then taken for both.

    Args:
        span: the stretch of the load path.
        solid: the piece of the part.
        t: the station, in [0, 1].

    Returns:
        The boundary of the cut, its section, and the largest relative difference from the outline.

    Raises:
        MakeError: the solid has no section there.
    """
    for shift in SHIFTS:
        here = float(np.clip(t + shift, 0.0, 1.0))
        expected = properties(span.outline(np.asarray(here)))
        low = (expected.y + expected.y_min, expected.z + expected.z_min)
        high = (expected.y + expected.y_max, expected.z + expected.z_max)
        boundary = contour(cut(solid, span.place(here), span.axes), low, high)
        if boundary.loops:
            found = properties(boundary)
            return boundary, found, difference_between(found, expected)
    raise MakeError(f"the solid has no section at {span.name}, station {t:.3f}")


def difference_between(found: Section, expected: Section) -> float:
    """The largest relative difference of area, centroid and second moments between two sections [-]."""
    size = float(np.sqrt(expected.area))
    moment = float(max(expected.Iyy, expected.Izz))
    return max(
        abs(float(found.area / expected.area) - 1.0),
        *(abs(float(f - e)) / size for f, e in ((found.y, expected.y), (found.z, expected.z))),
        *(
            abs(float(f - e)) / scale
            for f, e, scale in (
                (found.Iyy, expected.Iyy, float(expected.Iyy)),
                (found.Izz, expected.Izz, float(expected.Izz)),
                (found.Iyz, expected.Iyz, moment),
            )
        ),
    )


def _by_cuts(result: Result, cuts: tuple[Cut, ...]) -> Result:
    """The result with each critical-section check worked from the cut instead of the outline."""
    checks = [one for one in result.checks if one.mode != "combined stress"]
    for held in cuts:
        worst = held.critical
        stress = von_mises(held.boundary, worst.resultants, worst.span.material.poisson)
        exact = replace(worst, section=held.section, stress=stress, bounded=False)
        checks += warmed(result.part, section_checks(result.part, worst.case, exact))
    return replace(result, checks=tuple(checks))
