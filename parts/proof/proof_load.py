"""A proof load: a pull on the finished part that shows that it bears its load case, without using it up.

The part is held by its own joints, pulled where its load case acts, and its gauges are read. What they must read
follows from finite elements; gauges beside the joints take off what the joints themselves give.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.core.loads import LoadCase, Required, resultant
from parts.core.part import Part
from parts.core.search.result import Result
from parts.core.supports import Held
from parts.inputs.csv_file import part_cell
from parts.proof import hand
from parts.proof.compare import spring_energy, spring_work
from parts.proof.elastic import Push, Solved, solve
from parts.proof.errors import ProofError, needed
from parts.proof.gauge_places import placed_gauges
from parts.proof.gauges import Gauge
from parts.proof.joined import Pull, line_gauges, without_reaction
from parts.proof.piece import Proved, prove_piece
from parts.proof.refine import Aim
from parts.proof.skin import Skin, skin

KEEPS = 1.1
"""How far everything stays below yield under the proof load, the peaks of the elements as well [-]; common practice,
no source."""
LEAST = 0.5
"""Share of the limit load that a proof load has at least [-]: less proves nothing that a ride does not; common
practice, no source."""
STEP = 0.05
TWIST = 0.02
"""Share of a moment that may lie along its force and be passed over [-]; common practice, no source."""
LONGEST, ARM, MOST = 400.0, 300.0, 5
"""The farthest that a pull stands off its load point [mm], the arm of two pulls against each other [mm], and the
largest number of pulls; common practice, no source."""
HAND = (0.7, 1.35)
"""Between which the elements lie over the hand estimate where they agree [-]: bars do not feel what gives about joints
and bosses."""


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
        proved: the same by finite elements; of several pieces, the one whose peak comes nearest to yield.
        deflection: how far the largest pull's point moves in its sense under all of them, joints rigid [mm]: by
            elements, and by hand; nan where no hand estimate exists, as of several pulls on one piece, and by elements
            where they would have to join several pieces.
        least_yield: the least factor on yield, by checks and by the elements' peak [-].
        why: what kept the share from being larger.
    """

    part: Part
    case: str
    share: float
    at: str
    point: np.ndarray
    force: np.ndarray
    pulls: tuple[Pull, ...]
    references: tuple[Gauge, ...]
    gauges: tuple[Gauge, ...]
    held: Held
    result: Result[Part]
    proved: Proved
    deflection: tuple[float, float]
    least_yield: float
    why: str
    joined: tuple[str, ...] = ()
    """Names of the pieces that the pull runs through, where they are several; the readings are then the hand's."""

    @property
    def part_cell(self) -> str:
        """What its tables of readings say that they are of."""
        return part_cell(self.part.name, self.part.revision)

    @property
    def pull(self) -> float:
        """Size of the force [N]."""
        return float(np.linalg.norm(self.force))

    @property
    def hand_agrees(self) -> bool:
        """Whether elements and hand estimate lie within their band; true where one of them is not there."""
        share = self.deflection[0] / self.deflection[1]
        return bool(np.isnan(share) or HAND[0] <= share <= HAND[1])

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
        case: name of the load case; of the check that governs the metal where empty.
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
    if len([one for one in part.held(limit) if one.applied]) > 1:
        limit = without_reaction(limit)
    _ = _pulls(part, limit)
    share, why = _share(sharp, limit)
    often, brings = _service(part, limit)
    if brings > 1.0:
        raise ProofError(
            f"{part.name}: {often!r} comes often and brings {brings:.0%} of what {limit.name!r} does; prove it with "
            f"--case {often!r}"
        )
    while True:
        if share < max(LEAST, brings) - 1e-9:
            raise ProofError(
                f"{part.name}: no load proves {limit.name!r} without using the part up: {why}; a proof load is to be "
                f"at least {max(LEAST, brings):.0%} of the limit load, and more than service brings"
            )
        tested = _tested(sharp, limit, share)
        result = tested.check()
        solved = _elements(tested, result, aim or Aim(), say)
        held, proved = min(solved, key=lambda one: float(one[1].proof.cases[0].yield_factor))
        peak = float(proved.proof.cases[0].yield_factor)
        if peak >= KEEPS:
            break
        share, why = (
            _rounded(share * peak / KEEPS),
            f"the elements' peak comes within {KEEPS:g} of yield",
        )
    pulls = _pulls(tested, tested.loads[0])
    at, force = pulls[0].at, pulls[0].force
    deflection: tuple[float, float]
    if len(solved) == 1:
        references, gauges = placed_gauges(tested, held, proved)
        by_hand = _by_hand(result, held, tested.loads[0], pulls)
        deflection = _by_elements(proved, pulls), by_hand
    else:
        references, gauges, by_hand = line_gauges(result, pulls)
        deflection = float("nan"), by_hand
    yields = [float(one.factor) for one in result.checks if one.name.endswith("yield")]
    return ProofLoad(
        tested, limit.name, share, at,
        np.asarray(part.points()[at], float) + pulls[0].off, force, pulls, references,
        gauges, held, result, proved, deflection, min([peak, *yields]), why,
        tuple(one.piece for one, _ in solved) if len(solved) > 1 else (),
    )  # fmt: skip


def _case(part: Part, name: str) -> LoadCase:
    if not part.loads:
        raise ProofError(f"{part.name} has no load case; there is nothing to prove")
    if not name:
        names = [one.name for one in part.loads]
        real = [one for one in part.check().checks if one.load_case in names]
        # A joint that opens or slips moves no gauge: the metal is asked first.
        metal = [one for one in real if one.name.endswith(("yield", "ultimate"))] or real
        name = max(metal, key=lambda one: float(one.use)).load_case if metal else names[0]
    found = next((one for one in part.loads if one.name == name), None)
    if found is None:
        known = ", ".join(f"`{one.name}`" for one in part.loads)
        raise ProofError(f"{part.name} has no load case `{name}`; its load cases are {known}")
    return found


def _pulls(part: Part, case: LoadCase) -> tuple[Pull, ...]:
    """The pulls that stand for a load case, the largest first."""
    found = []
    for one in case.forces:
        force, moment = np.asarray(one.force, float), np.asarray(one.moment, float)
        if not (force.any() or moment.any()):
            continue
        square = float(force @ force)
        off = np.cross(force, moment) / square if square else np.zeros(3)
        twist = moment - np.cross(off, force)
        if np.linalg.norm(off) > LONGEST:
            raise ProofError(
                f"{part.name}: {case.name!r} turns the part at {one.at} as a pull {np.linalg.norm(off):.0f} mm off it "
                f"would; an arm is at most {LONGEST:g} mm long (common practice, no source): name another case"
            )
        if square:
            found.append(Pull(one.at, force, off))
        if np.linalg.norm(twist) > TWIST * np.linalg.norm(moment):
            found += _couple(one.at, off, twist)
    if len(found) > MOST:
        raise ProofError(
            f"{part.name}: {case.name!r} pulls at {len(found)} points; a small shop pulls at {MOST} at most (common "
            "practice, no source): name another load case with --case"
        )
    return tuple(sorted(found, key=lambda one: -one.size))


def _couple(at: str, off: np.ndarray, twist: np.ndarray) -> list[Pull]:
    """Two pulls against each other at the ends of an arm across a load point, for what turns the part there."""
    size = float(np.linalg.norm(twist))
    across = np.eye(3)[int(np.argmin(np.abs(twist)))]
    arm = np.cross(twist, across)
    arm *= ARM / 2.0 / np.linalg.norm(arm)
    force = np.cross(twist / size, arm / (ARM / 2.0)) * size / ARM
    return [Pull(at, force, off + arm), Pull(at, -force, off - arm)]


def _tested(part: Part, limit: LoadCase, share: float) -> Part:
    """The part with a share of a load case alone, and the factors that a test asks for."""
    forces = [
        own.model_copy(update={"force": tuple(share * float(v) for v in own.force),
                               "moment": tuple(share * float(v) for v in own.moment)})
        for own in limit.forces if any(own.force) or any(own.moment)
    ]  # fmt: skip
    forces.sort(key=lambda own: -float(np.linalg.norm(own.force)))
    case = limit.model_copy(update={"name": f"proof load, {limit.name}"[:80], "forces": forces, "practice": [],
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


def _service(part: Part, limit: LoadCase) -> tuple[str, float]:
    """The case of those that come often that brings most along the largest pull, and how much of it [-]."""
    main = _pulls(part, limit)[0]
    at, pull = main.at, main.force
    found = [
        (
            float(np.dot(load.force, pull) / np.dot(pull, pull))
            * max(block.share for block in case.spectrum),
            case.name,
        )
        for case in part.loads
        if case.spectrum and case.name != limit.name
        for load in case.forces
        if load.at == at
    ]
    brings, often = max(found, default=(0.0, ""))
    return often, brings


def _elements(
    part: Part, result: Result[Part], aim: Aim, say: Callable[[str], None]
) -> list[tuple[Held, Proved]]:
    """Every piece that the load runs through, each by itself."""
    case = part.loads[0]
    stated = [one for one in part.held(case) if one.applied]
    if not stated:
        raise ProofError(f"{part.name}: {case.name!r} says of no piece where it is pulled")
    pieces = {one.name: one for one in part.pieces}
    return [
        (one, prove_piece(part, result, pieces[one.piece], [(case, one)], aim, say))
        for one in stated
    ]


def _by_elements(proved: Proved, pulls: Sequence[Pull]) -> float:
    """How far the largest pull's point moves in its sense, joints rigid [mm]; nan where other pulls share its place."""
    solved, main = proved.settled.solved, pulls[0]
    if len(pulls) == 1:
        energy = proved.settled.steps[-1].energies[0] - spring_energy(solved, 0)
        return 2.0 * energy / main.size
    own = [
        load
        for load in solved.solid.cases[0]
        if isinstance(load, Push)
        and np.allclose(resultant(load.actions, np.zeros(3))[0], main.force, rtol=1e-6)
    ]
    return work_of(solved, own[0]) / main.size if len(own) == 1 else float("nan")


def work_of(solved: Solved, load: Push) -> float:
    """What one of several loads does along the motion that they all cause, joints rigid [N*mm].

    Args:
        solved: all loads together, as the first case.
        load: one of them.
    """
    alone = solve(solved.meshed, replace(solved.solid, cases=((load,),)), solved.order)
    work = float(alone.loads[0].vec.InnerProduct(solved.moved[0].vec))
    return work - spring_work(solved, solved.moved[0], alone.moved[0])


def _by_hand(result: Result[Part], held: Held, case: LoadCase, pulls: Sequence[Pull]) -> float:
    """How far the load point moves by the theory of bars; nan where no line of spans leads from it to the joints, and
    under several pulls."""
    if len(pulls) > 1:
        return float("nan")
    size, at = pulls[0].size, pulls[0].at
    if held.path:
        return 2.0 * hand.energy(result, held.piece, held.path, case) / size
    name = f"plate toward the {at}"
    spans = [one for one in result.spans if one.piece == held.piece and one.name == name]
    if not spans:
        return float("nan")
    total = sum(hand.of_span(one, case) for one in spans)
    return 2.0 * total * (1.0 + hand.ENDS / hand.slenderness(result, held.piece, [name])) / size


__all__ = ["KEEPS", "Gauge", "ProofError", "ProofLoad", "Pull", "proof_load"]
