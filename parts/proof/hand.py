"""The hand calculation's side of a proof: the critical section of a piece, and how far it gives by bar theory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.loadpath import Span, carried
from parts.core.loads import LoadCase
from parts.core.search.critical import Critical, criticals
from parts.core.search.look import looks
from parts.core.search.result import Result
from parts.strength.section.properties import Section, properties

STATIONS, FEW = 41, 5
SLACK = 0.04
"""By how much the box about a section is wider than the section, in its least side [-]: the foot of a fillet
belongs to it, what stands on it does not."""
SHEAR = 1.2
"""Share by which shear's own stiffness falls short of G A: 6/5 of a rectangle, taken for every section [-]."""
ENDS = 2.0
"""Lengths, as long as the section is thick, by which a load path gives more than its spans do: one at its root,
where what it grows from gives as well, one where the load comes in, with the walls of bores and the floor of a
fork; common practice, no source."""
SMALL_HOLE = 3.0
"""Notch factor where a span states none: that of a small hole in a wide plate [-]."""


@dataclass(frozen=True)
class HandSection:
    """The critical section of a piece under one case, its nominal stress and notch factor."""

    critical: Critical
    K_t: float

    @property
    def nominal(self) -> float:
        """Von Mises stress of the section [MPa]."""
        return float(self.critical.stress.von_mises)

    @property
    def notched(self) -> float:
        """Nominal stress times the notch factor [MPa]."""
        return self.nominal * self.K_t


def sections(result: Result, piece: str) -> list[HandSection]:
    """The critical section of one piece under each load case.

    Args:
        result: the check of the part.
        piece: name of the piece.

    Returns:
        One section a load case; none where no span runs through the piece.
    """
    spans = [span for span in result.spans if span.piece == piece]
    if not spans:
        return []
    found = criticals(looks(spans, result.part.loads))
    return [HandSection(one, notch_factor(one.span, one.t)) for one in found]


def notch_factor(span: Span, t: float) -> float:
    """K_t that a span states at a station; that of a small hole where it states none [-]."""
    if span.notch is None:
        return SMALL_HOLE
    return float(np.asarray(span.notch(np.asarray(t)).K_t))


def energy(result: Result, piece: str, path: Mapping[str, int], case: LoadCase) -> float:
    """Strain energy of the load path by the theory of bars, ends that give as well.

    Args:
        result: the check of the part.
        piece: name of the piece.
        path: names of spans, with how many alike bear side by side.
        case: the load case.

    Returns:
        [N*mm] the energy: twice of it over the force is how far the load moves in its own sense.

    Raises:
        KeyError: the path names a span that the part does not have.
    """
    spans = {span.name: span for span in result.spans if span.piece == piece}
    total = 0.0
    for name, count in path.items():
        total += count * _of_span(spans[name], case)
    return total * (1.0 + ENDS / slenderness(result, piece, path))


def slenderness(result: Result, piece: str, path: Mapping[str, int]) -> float:
    """Length of a load path in roots of its mean section [-]."""
    spans = [one for one in result.spans if one.piece == piece and one.name in path]
    lengths = np.array([np.linalg.norm(np.subtract(s.end, s.start)) for s in spans])
    t = np.linspace(0.0, 1.0, FEW)
    areas = np.array([float(np.mean(properties(s.outline(t)).area)) for s in spans])
    return float(lengths.sum() / np.sqrt(np.average(areas, weights=lengths)))


def _of_span(span: Span, case: LoadCase) -> float:
    t = np.linspace(0.0, 1.0, STATIONS)
    section: Section = properties(span.outline(t))
    r = carried(span, [case], t, section)
    N, Vy, Vz, T, My, Mz = (
        np.asarray(getattr(r, k))[0] for k in ("N", "Vy", "Vz", "T", "My", "Mz")
    )
    A, Iyy, Izz, Iyz = (
        np.asarray(getattr(section, k), float) for k in ("area", "Iyy", "Izz", "Iyz")
    )
    E = span.material.E
    G = E / (2.0 * (1.0 + span.material.poisson))
    det = Iyy * Izz - Iyz**2
    bent = (My**2 * Izz + 2.0 * My * Mz * Iyz + Mz**2 * Iyy) / det
    # Saint-Venant's approximation of the torsion constant of any solid section, A⁴ / 40 I_p.
    J = A**4 / (40.0 * (Iyy + Izz))
    density = N**2 / (E * A) + bent / E + SHEAR * (Vy**2 + Vz**2) / (G * A) + T**2 / (G * J)
    length = float(np.linalg.norm(np.subtract(span.end, span.start)))
    return 0.5 * float(np.trapezoid(density, t)) * length


def outline_box(section: Any) -> tuple[np.ndarray, np.ndarray]:
    """Box of a section in the axes of its cut, widened a little by its least side [mm]."""
    low = np.array([section.y + section.y_min, section.z + section.z_min], float)
    high = np.array([section.y + section.y_max, section.z + section.z_max], float)
    slack = SLACK * float(np.min(high - low))
    return low - slack, high + slack
