"""The long run: random parts of every family and option, hand beside finite elements, a row for each number.

    python tests/proof/long_run.py [--parts N] [--until HH:MM] [--family NAME]

Each part is a line of long_run.jsonl: as its file would state it, and what the elements found of it. A part that stands
there is not solved again, whatever fields and checks have changed since; break the run off and start it again at will.
The rows of long_run.csv and the table LONG_RUN.md follow from it:

    python tests/proof/long_run.py --hand

works the hand side of every row out anew, and solves nothing. A part whose solid or loads are no longer those that were
solved is solved again by the next run.
"""

from __future__ import annotations

import argparse
import csv
import json
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from kept import beside, record
from proof_parts import FAMILIES, drawn

from parts.core.supports import NotProved
from parts.proof.bands import BUCKLING, DEFLECTION
from parts.proof.refine import Aim
from parts.proof.workers import prove_all

HERE = Path(__file__).parent
PARTS, ROWS, TABLE = (
    HERE / f"{name}" for name in ("long_run.jsonl", "long_run.csv", "LONG_RUN.md")
)
COLUMNS = (
    "family",
    "seed",
    "option",
    "piece",
    "kind",
    "what",
    "hand",
    "fe",
    "unit",
    "x",
    "y",
    "z",
    "error",
)
AIM = Aim(error=0.05**0.5, unknowns=150_000, seconds=100.0)
NOT_PROVED, CHANGED = "not proved", "changed since"


def main() -> None:
    """Solve what is missing, then write rows and table."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--parts", type=int, default=100, help="parts of each family")
    asked.add_argument("--until", default="", help="time of day to stop at, HH:MM")
    asked.add_argument("--family", action="append", help="this family alone; may be given again")
    asked.add_argument(
        "--hand", action="store_true", help="work the hand side out anew, solve nothing"
    )
    given = asked.parse_args()
    if given.hand:
        kept = {_key(one): one for one in parts()}
        before = [row for row in rows() if _key(row) not in kept]
        write_rows([*before, *(row for one in kept.values() for row in rows_of(one))])
    else:
        run(given.parts, given.until, given.family or FAMILIES)
    write_table()


def run(count: int, until: str, some: Sequence[str]) -> None:
    """Solve the parts that are missing, seed by seed, until the hour."""
    gone = {_key(row) for row in rows() if row["kind"] == CHANGED}
    done = {_key(one) for one in parts()} - gone
    for seed in range(count):
        for family in some:
            if (family, str(seed)) in done:
                continue
            found = solved(family, seed)
            kept = [one for one in parts() if _key(one) != (family, str(seed))]
            _write(PARTS, "".join(f"{json.dumps(one)}\n" for one in [*kept, found]))
            other = [row for row in rows() if _key(row) != (family, str(seed))]
            write_rows([*other, *rows_of(found)])
            if until and time.strftime("%H:%M") >= until:
                return


def solved(family: str, seed: int) -> dict[str, Any]:
    """What is kept of one part."""
    base = {"family": family, "seed": seed, "option": ""}
    try:
        base["option"], part = drawn(family, seed)
    except Exception as error:  # a part that cannot be drawn is a row of the run as well
        return base | {"failed": [f"{type(error).__name__}: {error}"]}
    try:
        (proof,) = prove_all([part], AIM, jobs=1)
        return base | record(part, proof)
    except NotProved as error:  # as a folding peg that its load lifts
        return base | {"failed": [str(error)]}


def rows_of(one: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The rows of one part that was kept, its hand side as it is today."""
    base = {name: one[name] for name in ("family", "seed", "option")}
    for text in one["failed"]:
        yield base | {"kind": NOT_PROVED, "what": text[:200]}
    if "part" not in one:
        return
    try:
        for piece, error, row in beside(one):
            x, y, z = ("", "", "") if row.at is None else (f"{v:.1f}" for v in row.at)
            yield base | {
                "piece": piece, "kind": row.kind, "what": row.what, "hand": f"{row.hand:.4g}", "fe": f"{row.fe:.4g}",
                "unit": row.unit, "x": x, "y": y, "z": z, "error": f"{error**2:.3f}",
            }  # fmt: skip
    except ValueError as error:
        yield base | {"kind": CHANGED, "what": str(error).replace("\n", " ")[:200]}


def parts() -> list[dict[str, Any]]:
    """The parts that have been solved."""
    if not PARTS.is_file():
        return []
    return [json.loads(line) for line in PARTS.read_text("utf-8").splitlines()]


def rows() -> list[dict[str, str]]:
    """The rows of all parts."""
    if not ROWS.is_file():
        return []
    with ROWS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write_rows(found: Sequence[dict[str, Any]]) -> None:
    """Write the rows, by family and seed."""
    temporary = ROWS.with_suffix(".new")
    with temporary.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(sorted(found, key=lambda row: (row["family"], int(row["seed"]))))
    temporary.replace(ROWS)


def _write(path: Path, text: str) -> None:
    temporary = path.with_suffix(".new")
    temporary.write_text(text, "utf-8")
    temporary.replace(path)


def _key(row: dict[str, Any]) -> tuple[str, str]:
    return row["family"], str(row["seed"])


def _unsafe(row: dict[str, str]) -> bool:
    """True where the hand calculation promises more than the elements give."""
    if not row["fe"] or not float(row["fe"]) or row["kind"] == DEFLECTION:
        return False
    ratio = float(row["hand"]) / float(row["fe"])
    return ratio > 1.0 if row["kind"] == BUCKLING else not ratio >= 0.90


def write_table() -> None:
    """Hand over elements by family and kind: least, 5 %, median, 95 %, greatest."""
    ratios: dict[tuple[str, str], list[float]] = defaultdict(list)
    seeds: dict[str, set[str]] = defaultdict(set)
    for row in rows():
        if row["fe"] and float(row["fe"]):
            seeds[row["family"]].add(row["seed"])
            ratios[row["family"], row["kind"]].append(float(row["hand"]) / float(row["fe"]))
    kept = {_key(one) for one in parts()}
    before = sum((family, seed) not in kept for family, some in seeds.items() for seed in some)
    lines = [
        "# Hand over finite elements", "",
        "Written by `python tests/proof/long_run.py`. Random parts of every family and option under random loads, each",
        "solved to 5 % of its strain energy and refined about its peaks. Below 1 the hand calculation is on the unsafe",
        "side; a buckling factor is there above 1. The hand side is that of the last `--hand`, but for parts that were",
        f"solved before parts were kept: {before} of {sum(map(len, seeds.values()))}. Those are solved again.", "",
        "| family | parts | number | count | least | 5 % | median | 95 % | greatest |", "|" + "---|" * 9,
    ]  # fmt: skip
    for (family, kind), values in sorted(ratios.items()):
        found = np.quantile([v for v in values if np.isfinite(v)], [0.0, 0.05, 0.5, 0.95, 1.0])
        numbers = " | ".join(f"{v:.2f}" for v in found)
        lines.append(f"| {family} | {len(seeds[family])} | {kind} | {len(values)} | {numbers} |")
    lines += [
        "", "## Hand below 0.90 of the elements, buckling above", "",
        "Shears of bolts in the thin base of a sheet bracket: the elements clamp the face of a base that bends, so",
        "that its bolts hold each other by shears that sum to nothing. A joint gives that way by microns before it",
        "slips, and what the bolts bear together is what the hand has.", "",
    ]  # fmt: skip
    lines += [
        f"- {row['family']} {row['seed']}, {row['option']}, {row['piece']}: {row['what']}: hand {row['hand']}, "
        f"elements {row['fe']} {row['unit']}"
        + (f" at ({row['x']}, {row['y']}, {row['z']}) mm" if row["x"] else "")
        for row in rows()
        if _unsafe(row)
    ]
    lines += ["", "## Not proved, or not the part that was solved", ""]
    lines += [
        f"- {row['family']} {row['seed']}, {row['option']}: {row['kind']}: {row['what']}"
        for row in rows()
        if row["kind"] in (NOT_PROVED, CHANGED)
    ]
    _write(TABLE, "\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
