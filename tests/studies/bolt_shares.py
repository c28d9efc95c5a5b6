"""Finite elements of brackets on three to five mounts: what a plate that gives does to its bolts.

`python tests/studies/bolt_shares.py` solves all cases again and writes `bolt_shares.csv` beside this file, some
minutes on one core. Each row is the most pulled mount of a bracket of the family, drawn at random, under a load on its
peg, down and aside: its pull by a stiff plate on equal springs, by spokes from the load to each mount, and by elements
of the solid, whose mounts are rings on springs that slide in their plane. `tests/studies/test_studies.py` holds the
bound over each row.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from pydantic import ValidationError

from parts.families.foot_bracket.family import FootControlBracket
from parts.proof.elastic import reactions, solve
from parts.proof.piece import stated
from parts.proof.refine import Aim
from parts.strength.bolted.group import clamped_pull

SEED, CASES = 1130, 24
COLUMNS = ("mounts", "t", "x", "y", "z", "Fx", "Fy", "Fz", "windows", "stiff", "spokes", "elements")


def drawn(rng: np.random.Generator) -> dict[str, Any]:
    """A bracket by chance, as a builder would state it."""
    count = int(rng.integers(3, 6))
    places = [(0.0, 0.0), (85.0, 5.0), (25.0, 90.0), (95.0, 85.0), (45.0, -30.0)][:count]
    mounts = [
        {
            "at": [round(v + float(rng.uniform(-14, 14)), 1) for v in at],
            "thread": "M8",
            "bolt_class": "10.9",
        }
        for at in places
    ]
    plate = {
        "thickness": round(float(rng.uniform(8.0, 20.0)), 1),
        "windows": str(rng.choice(["none", "all", "clear of the load path"])),
    }
    peg = {
        "at": [round(float(rng.uniform(-55, -20)), 1), round(float(rng.uniform(25, 65)), 1)],
        "height": round(float(rng.uniform(50, 100)), 1),
    }
    force = [round(float(v), 0) for v in rng.uniform((-400, -2000, -400), (400, -800, 400))]
    start = dict(FootControlBracket.example)
    return {
        **start, "name": "R", "edge_break": 0.0, "mounts": mounts, "plate": {**start["plate"], **plate},
        "peg": {**start["peg"], **peg}, "loads": [{"name": "load", "forces": [{"at": "peg", "force": force}]}],
    }  # fmt: skip


def first(rng: np.random.Generator) -> FootControlBracket:
    """The next bracket by chance that meets the rules."""
    while True:
        try:
            return FootControlBracket.model_validate(drawn(rng))
        except ValidationError:
            continue


def shares(part: FootControlBracket) -> dict[str, float]:
    """Pull of the most pulled mount [N] by a stiff plate, by spokes and by elements."""
    (case,) = part.loads
    (held,) = part.held(case)
    *_, mesh, setup, _ = stated(part.pieces[0], [held], Aim())
    found = reactions(solve(mesh, setup), 0)
    away = np.array([0.0, 0.0, part.sign])
    pulls = [-float(found[name][:3] @ away) for name in held.bolts]
    k = int(np.argmax(pulls))
    stiff, soft = (
        part.loads_on_mounts.reactions(case)[0],
        part.loads_on_mounts.through_a_soft_plate(case, ["peg"])[0],
    )
    spokes = float(soft[k, 2]) / float(clamped_pull(len(pulls)))
    return {"stiff": float(stiff[k, 2]), "spokes": spokes, "elements": pulls[k]}


def main() -> None:
    """Solve all cases and write them."""
    rng = np.random.default_rng(SEED)
    with Path(__file__).with_suffix(".csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        for _ in range(CASES):
            part = first(rng)
            (load,) = part.loads[0].forces
            found = {
                "mounts": len(part.mounts), "t": part.plate.thickness, "x": part.peg.at[0], "y": part.peg.at[1],
                "z": part.peg.height, "windows": part.plate.windows,
                **dict(zip(("Fx", "Fy", "Fz"), load.force, strict=True)),
                **{name: round(value, 1) for name, value in shares(part).items()},
            }  # fmt: skip
            writer.writerow(found)
            file.flush()


if __name__ == "__main__":
    main()
