"""A proof load: a pull on the finished part that shows that it bears its load case, without using it up.

The part is held by its own joints, pulled at one load point, and its gauges are read. What they must read follows from
finite elements; gauges beside the joints take off what the joints themselves give.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.loads import LoadCase, Required
from parts.core.part import Part
from parts.core.search.result import Result
from parts.core.supports import Held
from parts.proof import hand
from parts.proof.compare import spring_energy
from parts.proof.elastic import solve
from parts.proof.errors import ProofError, needed
from parts.proof.field import fields
from parts.proof.piece import Proved, prove_piece
from parts.proof.refine import Aim
from parts.proof.skin import Skin, skin
from parts.standards.fits.general_tolerances import deviation_of, general_deviations

KEEPS = 1.1
"""How far everything stays below yield under the proof load, the peaks of the elements as well [-]; common practice,
no source."""
LEAST = 0.5
"""Share of the limit load that a proof load has at least [-]: less proves nothing that a ride does not; common
practice, no source."""
STEP = 0.05
STEPS = (0.05, 0.25, 0.5, 0.75, 1.0, 0.05)
"""Shares of the proof load: a seating load, four rising steps, and the seating load again for the set [-]."""
MODULUS, SCALE = 0.03, 0.02
"""What the modulus of the metal and the scale of the pull may be off [-]; common practice, no source."""
SOFTER, STIFFER = 0.5, 4.0
"""Between how many times the stiffness of its supports a part may be held [-]; common practice, no source."""
GAUGE = 0.01
"""What a dial gauge may be off [mm]; common practice, no source."""
SET = 0.03
"""Share of the full reading that may remain [-]; common practice, no source."""
HAND = (0.7, 1.35)
"""Between which the elements lie over the hand estimate where they agree [-]: bars do not feel what gives about joints
and bosses."""
WIDE = 10.0
"""How far three references stand apart at least for a plane through their readings [mm]."""
AXES = "xyz"


@dataclass(frozen=True)
class Gauge:
    """A dial gauge that reads along an axis of the part.

    Attributes:
        name: on the sheet.
        place: where its tip stands [mm], in the part's axes.
        axis: 0, 1 or 2 for x, y, z; the tip may stand on either side.
        weights: of the reference gauges, whose readings are taken off; none of a reference.
        reading: at the whole proof load, the references taken off [mm].
        band: share by which it may differ [-].
    """

    name: str
    place: tuple[float, float, float]
    axis: int
    weights: tuple[float, ...]
    reading: float
    band: float

    def limits(self, share: float) -> tuple[float, float]:
        """Between which it must read at a share of the proof load, from the seating load on [mm]."""
        middle = (share - STEPS[0]) * self.reading
        off = abs(middle) * self.band + GAUGE
        return middle - off, middle + off

    @property
    def most_set(self) -> float:
        """What may remain after the load [mm]."""
        return SET * abs(self.reading) + GAUGE


@dataclass(frozen=True)
class ProofLoad:
    """A test of a part under one load case.

    Attributes:
        part: the part with the proof load as its only load case, edges sharp.
        case: the load case that it proves.
        share: of the limit load [-].
        at: name of the load point, and `point` its place [mm].
        force: what pulls there [N].
        references, gauges: where gauges stand.
        result: of the part under the proof load, by the same checks.
        proved: the same by finite elements.
        deflection: how far the load point moves in the sense of the pull, joints rigid [mm]: by elements, and by hand;
            nan where no hand estimate exists.
        least_yield: the least factor on yield, by checks and by the elements' peak [-].
        why: what kept the share from being larger.
    """

    part: Part
    case: str
    share: float
    at: str
    point: np.ndarray
    force: np.ndarray
    references: tuple[Gauge, ...]
    gauges: tuple[Gauge, ...]
    held: Held
    result: Result[Part]
    proved: Proved
    deflection: tuple[float, float]
    least_yield: float
    why: str

    @property
    def pull(self) -> float:
        """Size of the force [N]."""
        return float(np.linalg.norm(self.force))

    @property
    def hand_agrees(self) -> bool:
        """Whether elements and hand estimate lie within their band; true where there is no hand estimate."""
        elements, by_hand = self.deflection
        return bool(np.isnan(by_hand) or HAND[0] <= elements / by_hand <= HAND[1])

    @property
    def skin(self) -> Skin:
        peak = self.proved.proof.cases[0].peak
        return skin(
            self.proved.proof.piece,
            self.proved.fields,
            self.proved.names,
            [(peak.mises, peak.place)],
        )


def proof_load(
    part: Part, case: str = "", aim: Aim | None = None, say: Callable[[str], None] = lambda _: None
) -> ProofLoad:
    """Find the proof load of a part.

    Args:
        part: the part.
        case: name of the load case; of the check that governs where empty.
        aim: when the elements stop refining.
        say: told of every step.

    Returns:
        The test.

    Raises:
        ProofError: there is no such load case, no single pull stands for it, no load proves it without using it up,
            or the elements failed.
    """
    needed()
    sharp = part.model_copy(update={"edge_break": 0.0})
    limit = _case(part, case)
    at = _pulled_at(part, limit)
    share, why = _share(sharp, limit)
    while True:
        if share < max(LEAST, _service(part, limit, at)) - 1e-9:
            raise ProofError(
                f"{part.name}: no load proves {limit.name!r} without using the part up: {why}; a proof load is to be "
                f"at least {max(LEAST, _service(part, limit, at)):.0%} of the limit load, and more than service brings"
            )
        tested = _tested(sharp, limit, share)
        result = tested.check()
        held, proved = _elements(tested, result, aim or Aim(), say)
        peak = float(proved.proof.cases[0].yield_factor)
        if peak >= KEEPS:
            break
        share, why = (
            _rounded(share * peak / KEEPS),
            f"the elements' peak comes within {KEEPS:g} of yield",
        )
    force = np.asarray(tested.loads[0].forces[0].force, float)
    references, gauges = _gauges(tested, held, proved)
    yields = [float(one.factor) for one in result.checks if one.name.endswith("yield")]
    return ProofLoad(
        tested, limit.name, share, at, np.asarray(part.points()[at], float), force, references, gauges, held, result,
        proved, (_by_elements(proved, force), _by_hand(result, held, tested.loads[0], force)), min([peak, *yields]),
        why,
    )  # fmt: skip


def _case(part: Part, name: str) -> LoadCase:
    if not part.loads:
        raise ProofError(f"{part.name} has no load case; there is nothing to prove")
    if not name:
        worst = part.check().governing
        name = worst.load_case if worst is not None and worst.load_case else part.loads[0].name
    found = next((one for one in part.loads if one.name == name), None)
    if found is None:
        known = ", ".join(f"`{one.name}`" for one in part.loads)
        raise ProofError(f"{part.name} has no load case `{name}`; its load cases are {known}")
    return found


def _pulled_at(part: Part, case: LoadCase) -> str:
    acting = [one for one in case.forces if any(one.force) or any(one.moment)]
    if len(acting) != 1 or any(acting[0].moment):
        raise ProofError(
            f"{part.name}: {case.name!r} acts at {len(acting)} points or with a moment; a proof load is one pull at "
            "one point: name another load case with --case"
        )
    return acting[0].at


def _tested(part: Part, limit: LoadCase, share: float) -> Part:
    """The part with a share of a load case alone, and the factors that a test asks for."""
    own = next(one for one in limit.forces if any(one.force))
    force = own.model_copy(update={"force": tuple(share * float(v) for v in own.force)})
    case = limit.model_copy(update={"name": f"proof load, {limit.name}"[:80], "forces": [force], "practice": [],
                                    "spectrum": [],
                                    "required": Required(on_yield=KEEPS, on_ultimate=KEEPS)})  # fmt: skip
    # Copied and not read anew: the dimensions stand.
    copy = part.model_copy(update={"loads": [case]})
    for key in [key for key in copy.__dict__ if key not in type(copy).model_fields]:
        del copy.__dict__[key]
    return copy


def _share(part: Part, limit: LoadCase) -> tuple[float, str]:
    """The largest share of the limit load, at most all of it, under which every check holds."""
    share, why = 1.0, "it is the limit load"
    while share > STEP:
        short = [
            one
            for one in _tested(part, limit, share).check().checks
            if not one.ok and one.load_case
        ]
        if not short:
            break
        worst = max(short, key=lambda one: float(one.use))
        why = f"{worst.name} allows no more, with {KEEPS:g} kept"
        share = min(share - STEP, _rounded(share / float(worst.use)))
    return share, why


def _rounded(share: float) -> float:
    return float(np.floor(share / STEP + 1e-9) * STEP)


def _service(part: Part, limit: LoadCase, at: str) -> float:
    """What the cases that come often bring along the pull, as a share of the limit load [-]."""
    pull = np.asarray(next(one for one in limit.forces if one.at == at).force, float)
    found = [
        float(np.dot(load.force, pull) / np.dot(pull, pull))
        * max(block.share for block in case.spectrum)
        for case in part.loads
        if case.spectrum and case.name != limit.name
        for load in case.forces
        if load.at == at
    ]
    return max(found, default=0.0)


def _elements(
    part: Part, result: Result[Part], aim: Aim, say: Callable[[str], None]
) -> tuple[Held, Proved]:
    case = part.loads[0]
    stated = [one for one in part.held(case) if one.applied]
    if len(stated) != 1:
        raise ProofError(
            f"{part.name}: the load runs through {len(stated)} pieces; one is proved by a pull at a time"
        )
    piece = next(one for one in part.pieces if one.name == stated[0].piece)
    return stated[0], prove_piece(part, result, piece, [(case, stated[0])], aim, say)


def _gauges(part: Part, held: Held, proved: Proved) -> tuple[tuple[Gauge, ...], tuple[Gauge, ...]]:
    """Gauges beside the joints, and those that are read: at the loaded place, and halfway to the joints."""
    found = proved.fields[0]
    surface = skin("", [found], ("",), [(0.0, (0.0, 0.0, 0.0))])
    places = surface.places
    loaded = _middle(held.applied)
    joints = [_middle([one]) for one in held.supports]
    ends = [
        _beside(places, one.patches[0], middle)
        for one, middle in zip(held.supports, joints, strict=True)
    ][:8]
    marks = [_nearest(places, loaded), _nearest(places, (loaded + np.mean(joints, axis=0)) / 2.0)]
    moved = [surface.states[0].moved, *_held_otherwise(proved)]
    axis, weights = _read_along(places, marks[0], ends, moved[0])
    kept = [k for k in range(len(ends)) if weights[0][k] != 0.0 or len(ends) <= 3]
    references = tuple(
        Gauge(f"R{n + 1}", _triple(places[ends[k]]), axis, (), float(moved[0][ends[k], axis]), 0.0)
        for n, k in enumerate(kept)
    )
    own = [ends[k] for k in kept]
    gauges = []
    for n, mark in enumerate(marks):
        w = _weights(places, mark, own, axis)
        readings = [float(u[mark, axis] - w @ u[own, axis]) for u in moved]
        gauges.append(Gauge(f"G{n + 1}", _triple(places[mark]), axis, tuple(float(v) for v in w), readings[0],
                            _band(part, proved, readings)))  # fmt: skip
    return references, tuple(gauges)


def _held_otherwise(proved: Proved) -> list[np.ndarray]:
    """How the skin moves with softer and with stiffer supports."""
    settled = proved.settled.solved
    found = []
    for by in (SOFTER, STIFFER):
        springs = tuple(replace(one, stiffness=by * one.stiffness) for one in settled.solid.springs)
        other = solve(settled.meshed, replace(settled.solid, springs=springs), settled.order)
        field = fields(other)[0]
        found.append(skin("", [field], ("",), [(0.0, (0.0, 0.0, 0.0))]).states[0].moved)
    return found


def _read_along(
    places: np.ndarray, mark: int, ends: Sequence[int], moved: np.ndarray
) -> tuple[int, list[np.ndarray]]:
    """The axis along which the loaded place moves most once the joints' motion is taken off, and the weights for it.

    An axis along which the references see how the joints turn comes before those along which they do not.
    """
    weights = [_weights(places, mark, ends, axis) for axis in range(3)]
    motion = [
        abs(float(moved[mark, axis] - weights[axis] @ moved[list(ends), axis])) for axis in range(3)
    ]
    seen = [_in_a_plane(places, ends, axis) for axis in range(3)]
    axis = max(range(3), key=lambda k: (seen[k], motion[k]))
    return axis, [weights[axis]]


def _in_a_plane(places: np.ndarray, ends: Sequence[int], axis: int) -> bool:
    """Whether the references stand wide apart both ways across an axis, so that a plane goes through them."""
    across = places[list(ends)][:, [k for k in range(3) if k != axis]]
    return len(ends) >= 3 and float(np.linalg.svd(across - across.mean(axis=0))[1].min()) > WIDE


def _weights(places: np.ndarray, mark: int, ends: Sequence[int], axis: int) -> np.ndarray:
    """What of each reference is taken off: a plane through three or more of them, their mean where they are in line."""
    across = [k for k in range(3) if k != axis]
    known = np.column_stack([np.ones(len(ends)), places[list(ends)][:, across]])
    if _in_a_plane(places, ends, axis):
        wanted = np.concatenate([[1.0], places[mark][across]])
        return np.asarray(np.linalg.lstsq(known.T, wanted, rcond=None)[0])
    return np.full(len(ends), 1.0 / len(ends))


def _band(part: Part, proved: Proved, readings: Sequence[float]) -> float:
    """Share by which a reading may differ: metal, thickness, supports, elements and the scale of the pull [-]."""
    thickness = float(np.max(part.stock_thickness()))
    rows = general_deviations(part.drawing.tolerance) or general_deviations("ISO 2768-m")
    off = deviation_of(thickness, rows)
    bent = 3.0 * (0.0 if np.isnan(off) else off) / thickness
    size = max(abs(readings[0]), 1e-9)
    supports = max(abs(one - readings[0]) / size for one in readings[1:])
    return float(np.sqrt(MODULUS**2 + SCALE**2 + bent**2 + proved.settled.error**4) + supports)


def _by_elements(proved: Proved, force: np.ndarray) -> float:
    energy = proved.settled.steps[-1].energies[0] - spring_energy(proved.settled.solved, 0)
    return 2.0 * energy / float(np.linalg.norm(force))


def _by_hand(result: Result[Part], held: Held, case: LoadCase, force: np.ndarray) -> float:
    """How far the load point moves by the theory of bars; nan where no line of spans leads from it to the joints."""
    size, at = float(np.linalg.norm(force)), case.forces[0].at
    if held.path:
        return 2.0 * hand.energy(result, held.piece, held.path, case) / size
    name = f"plate toward the {at}"
    spans = [one for one in result.spans if one.piece == held.piece and one.name == name]
    if not spans:
        return float("nan")
    total = sum(hand.of_span(one, case) for one in spans)
    return 2.0 * total * (1.0 + hand.ENDS / hand.slenderness(result, held.piece, [name])) / size


def _middle(some: Sequence[Any]) -> np.ndarray:
    found = [_of_patch(patch) for one in some for patch in one.patches]
    return np.asarray(np.mean(found, axis=0))


def _of_patch(patch: Any) -> np.ndarray:
    if hasattr(patch, "places"):
        return np.asarray(patch.places, float).reshape(-1, 3).mean(axis=0)
    centre = np.asarray(patch.centre, float)
    if hasattr(patch, "low"):
        axis = np.asarray(patch.axis, float)
        return centre + axis / np.linalg.norm(axis) * (patch.low + patch.high) / 2.0
    return centre


def _beside(places: np.ndarray, patch: Any, middle: np.ndarray) -> int:
    """Where a tip can stand beside a joint: on the face away from what holds it, clear of the bolt's head; or outside
    the wall of a bore."""
    along = getattr(patch, "normal", getattr(patch, "axis", None))
    radius = getattr(patch, "outer", getattr(patch, "diameter", 0.0) / 2.0)
    if along is None or not radius:
        return _nearest(places, middle)
    unit = np.asarray(along, float) / np.linalg.norm(along)
    off = places - middle
    deep = off @ unit
    aside = np.linalg.norm(off - deep[:, None] * unit, axis=1)
    near = (aside > 0.9 * radius) & (aside < 1.6 * radius)
    if not near.any():
        return _nearest(places, middle)
    # A bolt's face: the far side of the piece. A bore: whatever lies nearest.
    better = np.abs(deep) if hasattr(patch, "outer") else -np.abs(deep)
    top = float(better[near].max())
    return int(
        np.argmin(np.where(near & (better > top - 1.0), np.abs(aside - 1.2 * radius), np.inf))
    )


def _nearest(places: np.ndarray, at: np.ndarray) -> int:
    return int(np.argmin(np.linalg.norm(places - at, axis=1)))


def _triple(row: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in row)
    return x, y, z


__all__ = ["Gauge", "ProofError", "ProofLoad", "proof_load"]
