"""Draws the sheets of random parts of every family and option, proves them and scores their layout.

    python tests/runs/random_sheets.py --parts 100 --seed 1

Each sheet is proved as `make --for bench` proves it: every face determined once, nothing on top of anything. The worst
scores come last, with the part's file, so that their layout can be looked at.
"""

from __future__ import annotations

import random
import time
import traceback

import yaml
from drawn import valid_parts
from rows_done import asking, rows_done

from parts.core.part import Part
from parts.making.bench.files import sharp_solids, sheets
from parts.making.bench.score import score
from parts.making.model import model

WORST = 10


def scores_of(part: Part) -> list[float]:
    """The score of each sheet of a part; raises where one cannot be proved or read."""
    made = model(part)
    found = sheets(part, made, sharp_solids(part))
    return [score(one.views, one.ink, one.paper.inside).total for _, one in found]


def scored(piece: tuple[str, Part]) -> dict[str, object]:
    """The worst score of a part's sheets, or the fault that they end in."""
    _, part = piece
    try:
        return {"family": part.family, "score": max(scores_of(part), default=0.0)}
    except Exception:
        return {"family": part.family, "fault": traceback.format_exc(limit=2)}


def main() -> int:
    asked = asking(__doc__)
    asked.add_argument("--parts", type=int, default=100)
    asked.add_argument("--limit", type=float, default=7.5, help="a worse score is a fault")
    asked.add_argument("--until", default="", help="stop at this time of the day, as 08:00")
    given = asked.parse_args()
    found: list[tuple[float, str]] = []
    faults, pieces = 0, {}
    for number, (data, part) in enumerate(valid_parts(random.Random(given.seed), given.parts)):
        text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True)
        pieces[f"{number}"] = text, (text, part.model_copy())
    for key, row in rows_done(scored, pieces, ("family", "score", "fault"), given):
        text = pieces[key][0]
        if row["fault"] or not row["score"]:
            faults += 1
            print(f"{key} {row['family']}: fault\n{row['fault']}{text}", flush=True)
        else:
            worst = float(row["score"])
            faults += worst > given.limit
            found.append((worst, text))
            print(f"{key} {row['family']}: {worst:.2f}", flush=True)
        if given.until and time.strftime("%H:%M") >= given.until:
            break
    for worst, text in sorted(found)[-WORST:]:
        print(f"--- score {worst:.2f}\n{text}")
    print(f"{len(found)} parts drawn, {faults} faults")
    return int(faults > 0)


if __name__ == "__main__":
    raise SystemExit(main())
