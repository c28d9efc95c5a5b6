"""Proving a part: every piece that its load path runs through, one message for each that cannot be proved."""

from __future__ import annotations

import resource
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from parts.core.part import Part
from parts.core.supports import Held, NotProved
from parts.proof.errors import TOO_LITTLE, ProofError, is_memory, needed
from parts.proof.piece import Proved, prove_piece
from parts.proof.records import Proof
from parts.proof.refine import Aim
from parts.proof.skin import Skin, skin

SHARP = "outside edges are taken sharp, without their edge breaks, by hand as well"


def prove(
    part: Part,
    aim: Aim | None = None,
    *,
    pictures: bool = False,
    say: Callable[[str], None] = lambda _: None,
) -> Proof:
    """Prove a part: finite elements on its solids, beside the hand calculation.

    Args:
        part: the part, with at least one load case.
        aim: when to stop refining.
        pictures: draw the stress as well.
        say: told of every step.

    Returns:
        The proof; pieces that could not be proved are named in it.

    Raises:
        ProofError: the extra is not installed, or the part has no load case.
    """
    needed()
    if not part.loads:
        raise ProofError(f"{part.name} has no load case; there is nothing to prove")
    started = time.monotonic()
    _forget_peak()
    # A chamfer of half a millimetre all round takes a hundred thousand elements and bears nothing.
    sharp = part.model_copy(update={"edge_break": 0.0})
    try:
        groups = _by_piece(sharp)
    except NotProved as error:
        raise ProofError(f"{part.name}: {error}") from None
    result = sharp.check()
    solids = {piece.name: piece for piece in sharp.pieces}
    found: list[Proved] = []
    failed: list[str] = []
    for name, cases in groups.items():
        try:
            found.append(
                prove_piece(
                    sharp, result, solids[name], cases, aim or Aim(),
                    lambda text, name=name: say(f"{part.name} {name}: {text}"),
                )
            )  # fmt: skip
        except ProofError as error:
            failed.append(f"{part.name}, {name}: {error}")
        except Exception as error:
            if not is_memory(error):
                raise
            failed.append(f"{part.name}, {name}: {TOO_LITTLE}")
    drawn: Mapping[str, bytes] = {}
    if pictures:
        from parts.proof.picture import pictures_of

        drawn = {k: v for one in found for k, v in pictures_of(sharp, one).items()}
    return Proof(
        part.name, tuple(one.proof for one in found), tuple(failed), drawn, time.monotonic() - started, _peak_mb(),
        tuple(map(_skin, found)) if pictures else (),
    )  # fmt: skip


def _skin(one: Proved) -> Skin:
    peaks = [(case.peak.mises, case.peak.place) for case in one.proof.cases]
    return skin(one.proof.piece, one.fields, one.names, peaks)


def _forget_peak() -> None:
    """Let the system measure the most memory of this process anew, where it can (Linux)."""
    with suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5")


def _peak_mb() -> float:
    """Most memory of this process since it was forgotten; since its start where the system cannot forget [MB].

    Where the system lists it: what it counts as resources used would begin with what the starting process held.
    """
    with suppress(OSError):
        for line in Path("/proc/self/status").read_text().splitlines():
            if line.startswith("VmHWM:"):
                return float(line.split()[1]) / 1024.0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def _by_piece(part: Part) -> dict[str, list[tuple[Any, Held]]]:
    groups: dict[str, list[tuple[Any, Held]]] = {}
    for case in part.loads:
        for held in part.held(case):
            if held.applied:
                groups.setdefault(held.piece, []).append((case, held))
    return groups
