"""Checks and makes valid parts drawn at random over all families and options.

    python tests/runs/random_parts.py --check 10000 --make 1500 --seed 1

A part that is checked gives a number for each check, balances, and its file reads back. One that is made
gives sound solids, cut as checked and measured as drawn, closed meshes, and every file of its folder. Faults stand in
`--out`, a file of the part each. `--rows FILE` keeps what was done: a run that was stopped goes on there.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import yaml
from drawn import valid_parts
from rows_done import asking, rows_done

from parts.core.part import Part
from parts.families import families
from parts.inputs.reading import read_text
from parts.report.document import json_bytes


def fault_of_check(text: str, part: Part) -> str:
    """What is wrong with the check of a part; empty where nothing is."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        result = read_text(text, families()).check()
        json_bytes([result])
    if not np.isclose(
        float(result.governing.factor), float(part.check().governing.factor), rtol=1e-6
    ):
        return "the part reads back as another"
    if lost := [name for name, held in result.balances if not held.ok]:
        return f"loads are lost on the way: {lost}"
    silent = [one.name for one in result.checks if np.isnan(float(one.factor))]
    return f"no number: {silent}" if silent else ""


def fault_of_make(part: Part) -> str:
    """What is wrong with a part as it is made; empty where nothing is."""
    from parts.folders.part_files import make_part
    from parts.making.purposes import PURPOSES

    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        made = make_part(part, Path(folder), purposes=list(PURPOSES), packet=True)
        empty = [file.name for file in made.files if not file.stat().st_size]
    for piece in part.pieces:
        if not all(solid.isValid() and solid.Volume() > 0.0 for solid in piece.solid.vals()):
            return f"the solid of {piece.name} is not sound"
    return f"empty files: {empty}" if empty else ""


def guarded(find: Any, *given: Any) -> str:
    """What a search for a fault finds, or the fault that it ends in."""
    try:
        return str(find(*given))
    except Exception as error:
        where = traceback.extract_tb(error.__traceback__)[-1]
        return f"{type(error).__name__}: {error} ({Path(where.filename).name}:{where.lineno})"


def faults_of(piece: tuple[str, Part, bool, bool]) -> dict[str, str]:
    """What is wrong with a part that is checked, made, or both."""
    text, part, checks, makes = piece
    found = [guarded(fault_of_check, text, part)] if checks else []
    found += [guarded(fault_of_make, part)] if makes else []
    return {"family": part.family, "fault": "\n".join(filter(None, found))[:1500]}


def run(given: Any) -> Counter[str]:
    """Draws, checks and makes; prints each fault as it is found.

    Returns:
        How many parts of each family were checked and made, and how many had a fault.
    """
    tally: Counter[str] = Counter()
    pieces = {}
    for i, (data, part) in enumerate(
        valid_parts(random.Random(given.seed), max(given.check, given.make))
    ):
        text = yaml.safe_dump({"family": part.family, **data}, sort_keys=False)
        checks, makes = i < given.check, i < given.make
        pieces[f"{i:05d}"] = f"{checks} {makes} {text}", (text, part.model_copy(), checks, makes)
        tally[f"{part.family}, checked"] += checks
        tally[f"{part.family}, made"] += makes
    for many, (key, row) in enumerate(rows_done(faults_of, pieces, ("family", "fault"), given), 1):
        if fault := row["fault"]:
            tally["faults"] += 1
            print(f"--- part {key} ({row['family']}): {fault}", flush=True)
            if given.out is not None:
                text = pieces[key][1][0]
                (given.out / f"{key}.yaml").write_text(f"# {' '.join(fault.split())[:300]}\n{text}")
        if many % 500 == 0:
            print(f"... {many} parts, {tally['faults']} faults", flush=True)
    return tally


if __name__ == "__main__":
    asked = asking(__doc__)
    asked.add_argument("--check", type=int, default=10_000)
    asked.add_argument("--make", type=int, default=1_500)
    asked.add_argument("--out", type=Path)
    given = asked.parse_args()
    if given.out:
        given.out.mkdir(parents=True, exist_ok=True)
    start = time.perf_counter()
    counted = run(given)
    print(f"in {time.perf_counter() - start:.0f} s: {dict(counted)}")
    sys.exit(1 if counted["faults"] else 0)
