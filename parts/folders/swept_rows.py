"""Rows of a sweep by their solids or by finite elements: hours of work, written row by row as they come."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from parts.core.figures import figure
from parts.inputs.document import Document
from parts.running.pieces import Executor
from parts.running.table import Table
from parts.running.versions import versions
from parts.study.sweep import Swept

HOLDS, SHORT, NOT_MADE = "holds", "falls short", "cannot be made"
AGREE, UNSAFE, NOT_PROVED = "agrees", "unsafe by hand", "not proved"
BY_SOLID = ("mass_kg", "factor", "required", "governing", "load_case", "verdict", "said")
BY_PROOF = ("pieces", "energy_error", "outside", "unsafe", "verdict", "said")


def solid_row(stated: Document) -> dict[str, Any]:
    """A row by its solid: mass, and the check that governs, worked from cuts as in `make`."""
    from parts.families import families
    from parts.inputs.reading import read_parsed
    from parts.making.model import MakeError, model

    try:
        made = model(read_parsed(stated, families()))
    except MakeError as error:
        return {"verdict": NOT_MADE, "said": str(error)}
    worst = made.result.governing
    assert worst is not None  # a sweep asks for load cases
    return {
        "mass_kg": float(f"{made.mass:.9g}"),
        "factor": float(f"{float(worst.factor):.9g}"),
        "required": float(worst.required),
        "governing": worst.name,
        "load_case": worst.load_case,
        "verdict": HOLDS if made.result.ok else SHORT,
    }


def proof_row(stated: Document) -> dict[str, Any]:
    """A row by finite elements beside the hand calculation."""
    from parts.families import families
    from parts.inputs.reading import read_parsed
    from parts.proof.errors import ProofError
    from parts.proof.prove import prove

    try:
        proof = prove(read_parsed(stated, families()))
    except ProofError as error:
        return {"verdict": NOT_PROVED, "said": str(error)}
    outside = [one for *_, one in proof.disagreements()]
    unsafe = [one for one in outside if one.unsafe]
    said = [*proof.failed, *(one.verdict for one in unsafe)]
    return {
        "pieces": len(proof.pieces),
        "energy_error": figure(max((one.error for one in proof.pieces), default=0.0) ** 2),
        "outside": len(outside),
        "unsafe": len(unsafe),
        "verdict": NOT_PROVED if proof.failed else UNSAFE if unsafe else AGREE,
        "said": "; ".join(said),
    }


def rows_by(
    found: Swept,
    file: Path,
    executor: Executor,
    *,
    proved: bool = False,
    begun: Callable[[str], None] = lambda _: None,
) -> tuple[Table, list[str]]:
    """Work out every row that meets its rules, those that the file holds already left out.

    Args:
        found: the sweep.
        file: CSV file of the results.
        executor: does the rows.
        proved: by finite elements; else by solids.
        begun: told the number of each row when it is begun.

    Returns:
        The results, and in words which rows were lost: they are done again by the next run.

    Raises:
        OSError: the disk refused.
        ClusterError: the cluster cannot be used.
    """
    work = proof_row if proved else solid_row
    rows = {
        f"{row + 1}": found.document(row) for row, broken in enumerate(found.broken) if not broken
    }
    around = repr((work.__name__, versions()))
    wanted = {
        key: hashlib.sha256(f"{around}{json.dumps(one.data, sort_keys=True)}".encode()).hexdigest()
        for key, one in rows.items()
    }
    table = Table(file, BY_PROOF if proved else BY_SOLID, wanted)
    lost = []
    for done in executor.run(work, {key: rows[key] for key in table.left}, begun):
        if done.error is None:
            table.add(done.key, done.value)
        else:
            lost.append(f"row {done.key}: {type(done.error).__name__}: {done.error}")
    table.close()
    return table, lost
