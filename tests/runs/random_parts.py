"""Checks and makes valid parts drawn at random over all families and options.

    python tests/runs/random_parts.py --check 10000 --make 1500 --seed 1

Part i of a seed is always the same one, whatever is drawn beside it. A part that is checked reads back from its file as
it was drawn, gives a number for each check, and balances; one in ten is reported as JSON. One that is made gives sound
solids, cut as checked, closed meshes, and STEP and DXF that are written whole; one in `--whole` of these gives every
file that there is, sheets and packets too (their layout and plans have runs of their own). Faults stand in `--out`, a
file of the part each. `--rows FILE` keeps what was done: a run that was stopped goes on there.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from itertools import accumulate
from pathlib import Path
from typing import Any

import numpy as np
import yaml
from drawn import stated, valid_part
from rows_done import asking, rows_done

from parts.core.part import Part
from parts.families import families
from parts.inputs.reading import read_text
from parts.report.document import json_bytes

DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)


REPORTED = 10
"""One part in so many that are checked is reported as JSON too, for which its sections are solved whole."""

UNKNOWN = "nobody can say that it holds"
"""In the note of a check that has no number since nothing is published: it falls short, and says why."""


def fault_of_check(text: str, part: Part, whole: bool) -> str:
    """What is wrong with the check of a part, with its report where that is asked for; empty where nothing is."""
    read = read_text(text, families())
    if stated(read) != stated(part):
        return "the part reads back as another"
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        result = read.check()
        if whole:
            json_bytes([result])
    if lost := [name for name, held in result.balances if not held.ok]:
        return f"loads are lost on the way: {lost}"
    silent = [
        one.name for one in result.checks if np.isnan(float(one.factor)) and UNKNOWN not in one.note
    ]
    return f"no number: {silent}" if silent else ""


def fault_of_make(part: Part, whole: bool) -> str:
    """What is wrong with a part as it is made, with all its files or those for machines; empty where nothing is."""
    from parts.folders.part_files import make_part
    from parts.making.purposes import PURPOSES

    if not whole:
        part = part.model_copy(update={"outputs": ["step", "stl"]})
    purposes = list(PURPOSES) if whole else ["flat"]
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        made = make_part(part, Path(folder), purposes=purposes, packet=whole)
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


def faults_of(piece: tuple[int, int, bool, bool, bool]) -> dict[str, str]:
    """What is wrong with a part that is drawn, then checked, made, or both."""
    seed, number, checks, makes, whole = piece
    try:
        data, part = valid_part(random.Random(f"{seed} {number}"), number)
    except RuntimeError as error:
        return {"fault": str(error)}
    text = yaml.dump({"family": part.family, **data}, Dumper=DUMPER, sort_keys=False)
    found = [guarded(fault_of_check, text, part, number % REPORTED == 0)] if checks else []
    found += [guarded(fault_of_make, part, whole)] if makes else []
    fault = "\n".join(filter(None, found))[:1500]
    return {"family": part.family, "fault": fault, "stated": text if fault else ""}


def asked_for(given: Any) -> dict[str, tuple[int, int, bool, bool, bool]]:
    """Of each part: seed, number, whether it is checked, made, made with all files; those made are spread evenly."""
    many = max(given.check, given.make)
    made = [(i + 1) * given.make // many - i * given.make // many for i in range(many)]
    so_far = list(accumulate(made))
    return {
        f"{i:05d}": (
            given.seed,
            i,
            i < given.check,
            bool(made[i]),
            bool(made[i]) and so_far[i] % given.whole == 0,
        )
        for i in range(many)
    }


def run(given: Any) -> Counter[str]:
    """Draws, checks and makes; prints each fault as it is found.

    Returns:
        How many parts of each family were checked and made, and how many had a fault.
    """
    tally: Counter[str] = Counter()
    asked = asked_for(given)
    pieces = {key: (repr(one), one) for key, one in asked.items()}
    columns = ("family", "fault", "stated")
    for many, (key, row) in enumerate(rows_done(faults_of, pieces, columns, given), 1):
        for what, done in zip(("checked", "made", "made with all"), asked[key][2:], strict=True):
            tally[f"{row['family']}, {what}"] += done
            tally[what] += done
        if fault := row["fault"]:
            tally["faults"] += 1
            print(f"--- part {key} ({row['family']}): {fault}", flush=True)
            if given.out is not None:
                text = f"# {' '.join(fault.split())[:300]}\n{row['stated']}"
                (given.out / f"{key}.yaml").write_text(text)
        if many % 500 == 0:
            print(f"... {many} parts, {tally['faults']} faults", flush=True)
        if given.until and time.strftime("%H:%M") >= given.until:
            break
    return tally


if __name__ == "__main__":
    asked = asking(__doc__)
    asked.add_argument("--check", type=int, default=10_000)
    asked.add_argument("--make", type=int, default=1_500)
    asked.add_argument(
        "--whole", type=int, default=25, help="one made part in so many gives all files"
    )
    asked.add_argument("--until", default="", help="stop at this time of the day, as 08:00")
    asked.add_argument("--out", type=Path)
    given = asked.parse_args()
    if given.out:
        given.out.mkdir(parents=True, exist_ok=True)
    start = time.perf_counter()
    counted = run(given)
    print(f"in {time.perf_counter() - start:.0f} s: {dict(counted)}")
    sys.exit(1 if counted["faults"] else 0)
