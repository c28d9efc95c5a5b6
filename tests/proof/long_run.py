"""The long run: random parts of every family and option, hand beside finite elements, a row for each number.

    python tests/proof/long_run.py [--parts N] [--until HH:MM]

Rows are appended to long_run.csv as they come, by family and seed; what stands there already is not solved again. Then
the table of hand over elements is written to LONG_RUN.md.
"""

from __future__ import annotations

import argparse
import csv
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from proof_parts import FAMILIES, drawn

from parts.proof.bands import BUCKLING, DEFLECTION
from parts.proof.records import Proof
from parts.proof.refine import Aim
from parts.proof.workers import prove_all

HERE = Path(__file__).parent
ROWS, TABLE = HERE / "long_run.csv", HERE / "LONG_RUN.md"
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
NOT_PROVED = "not proved"


def main() -> None:
    """Solve what is missing, then write the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--parts", type=int, default=100, help="parts of each family")
    asked.add_argument("--until", default="", help="time of day to stop at, HH:MM")
    asked.add_argument(
        "--table", action="store_true", help="write the table of what stands there, solve nothing"
    )
    given = asked.parse_args()
    if given.table:
        return write_table()
    done = {(row["family"], int(row["seed"])) for row in rows()}
    for seed in range(given.parts):
        missing = [family for family in FAMILIES if (family, seed) not in done]
        for found in solved(missing, seed):
            append(found)
            if given.until and time.strftime("%H:%M") >= given.until:
                return write_table()
    write_table()


def solved(some: Sequence[str], seed: int) -> Iterator[list[dict[str, Any]]]:
    """The rows of one part of each of some families."""
    found = {}
    for family in some:
        base = {"family": family, "seed": seed, "option": ""}
        try:
            base["option"], part = drawn(family, seed)
        except Exception as error:  # a part that cannot be drawn is a row of the run as well
            yield [base | _not_proved(f"{type(error).__name__}: {error}")]
            continue
        found[f"{part.name} {family}"] = (
            base,
            part.model_copy(update={"name": f"{part.name} {family}"}),
        )
    for proof in prove_all([part for _, part in found.values()], AIM, jobs=1):
        base = found[proof.part][0]
        yield [base | row for row in _numbers(proof)]


def _not_proved(text: str) -> dict[str, Any]:
    return {"kind": NOT_PROVED, "what": text[:200]}


def _numbers(proof: Proof) -> Iterator[dict[str, Any]]:
    for text in proof.failed:
        yield _not_proved(text)
    for piece in proof.pieces:
        for case in piece.cases:
            for one in case.beside:
                x, y, z = one.at or ("", "", "")
                yield {
                    "piece": piece.piece, "kind": one.kind, "what": one.what, "hand": f"{one.hand:.4g}",
                    "fe": f"{one.fe:.4g}", "unit": one.unit, "error": f"{piece.error**2:.3f}",
                    **{k: v if v == "" else f"{v:.1f}" for k, v in zip("xyz", (x, y, z), strict=True)},
                }  # fmt: skip


def rows() -> list[dict[str, str]]:
    """What has been solved."""
    if not ROWS.is_file():
        return []
    with ROWS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def append(found: list[dict[str, Any]]) -> None:
    """Write the rows of a part behind the others."""
    new = not ROWS.is_file()
    with ROWS.open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        if new:
            writer.writeheader()
        writer.writerows(found)


def _unsafe(row: dict[str, str]) -> bool:
    """True where the hand calculation promises more than the elements give."""
    if not row["fe"] or not float(row["fe"]) or row["kind"] == DEFLECTION:
        return False
    ratio = float(row["hand"]) / float(row["fe"])
    return ratio > 1.0 if row["kind"] == BUCKLING else not ratio >= 0.90


def write_table() -> None:
    """Hand over elements by family and kind: least, 5 %, median, 95 %, greatest."""
    ratios: dict[tuple[str, str], list[float]] = defaultdict(list)
    parts: dict[str, set[str]] = defaultdict(set)
    for row in rows():
        parts[row["family"]].add(row["seed"])
        if row["fe"] and float(row["fe"]):
            ratios[row["family"], row["kind"]].append(float(row["hand"]) / float(row["fe"]))
    lines = [
        "# Hand over finite elements", "",
        "Written by `python tests/proof/long_run.py`. Random parts of every family and option under random loads, each",
        "solved to 5 % of its strain energy and refined about its peaks. Below 1 the hand calculation is on the unsafe",
        "side; a buckling factor is there above 1. A row stands as it was solved: a part whose checks changed since is",
        "solved again by taking its rows out of the file.", "",
        "| family | parts | number | count | least | 5 % | median | 95 % | greatest |", "|" + "---|" * 9,
    ]  # fmt: skip
    for (family, kind), values in sorted(ratios.items()):
        found = np.quantile([v for v in values if np.isfinite(v)], [0.0, 0.05, 0.5, 0.95, 1.0])
        numbers = " | ".join(f"{v:.2f}" for v in found)
        lines.append(f"| {family} | {len(parts[family])} | {kind} | {len(values)} | {numbers} |")
    lines += ["", "## Hand below 0.90 of the elements, buckling above", ""]
    lines += [
        f"- {row['family']} {row['seed']}, {row['option']}, {row['piece']}: {row['what']}: hand {row['hand']}, "
        f"elements {row['fe']} {row['unit']}"
        + (f" at ({row['x']}, {row['y']}, {row['z']}) mm" if row["x"] else "")
        for row in rows()
        if _unsafe(row)
    ]
    TABLE.write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
