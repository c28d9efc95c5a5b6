"""Draws the sheets of random parts of every family and option, proves them and scores their layout.

    python tests/runs/random_sheets.py --parts 100 --seed 1
    python tests/runs/random_sheets.py --prove --parts 1500 --seed 1 --family clevis --family "frame tab"

Each sheet is proved as `make --for bench` proves it: every face determined once and reachable, every length as the
solid has it, nothing on top of anything. The worst scores come last, with the part's file, so that their layout can be
looked at. With `--prove` no sheet is laid out and nothing is planned (`process_sheets.py` does that): it is proved, and
what tools refuse of its holes, as a tap that would strike bottom, is counted apart, for `make --for bench` refuses it
too. Part i of a seed is always the same one. Counts a family come last.
"""

from __future__ import annotations

import random
import time
import traceback
from collections import Counter

import yaml
from drawn import drawn_from, valid_part
from rows_done import asking, rows_done

from parts.core.part import Part
from parts.making.bench.files import NotProved, proved, sharp_solids, sheets
from parts.making.bench.measured import measured
from parts.making.bench.score import score
from parts.making.model import model
from parts.making.process.holes import tool_rules
from parts.making.process.tools import Drawer

WORST = 10
COLUMNS = ("family", "score", "refused", "fault", "stated")


def score_of(part: Part) -> float:
    """The worst score of a part's sheets; raises where one cannot be proved or read."""
    found = sheets(part, model(part), sharp_solids(part))
    return max((score(one.views, one.ink, one.paper.inside).total for _, one in found), default=0.0)


def refused(part: Part) -> str:
    """Prove every sheet of a part without laying it out; what tools refuse of its holes, empty where nothing.

    Raises:
        NotProved: a face is open, a length is said twice or is another on the solid.
    """
    solids, rules = sharp_solids(part), []
    drawer = Drawer.of(part, part.material)
    for drawn in part.drawn():
        solid = solids[drawn.piece]
        proved(part, drawn, solid)
        found = (one for one in measured(drawn.marks, solid) if not (one.ok or one.of_the_edge))
        if wrong := "; ".join(one.words() for one in found):
            raise NotProved(wrong)
        for hole in drawn.marks.holes:
            rules += tool_rules(hole, drawer, part.milling.beyond_thread)
    return "; ".join(f"{one.code} {one.field}: {one.wrong()}" for one in rules if not one.ok)


def sheets_of(piece: tuple[int, int, bool]) -> dict[str, object]:
    """What the sheets of a part come to: a score or what tools refuse, or the fault that they end in."""
    seed, number, prove = piece
    data, part = valid_part(random.Random(f"{seed} {number}"), number)
    row = {
        "family": part.family,
        "stated": yaml.safe_dump(data, sort_keys=False, allow_unicode=True),
    }
    try:
        return row | ({"refused": refused(part)} if prove else {"score": score_of(part)})
    except Exception:
        return row | {"fault": traceback.format_exc(limit=-2)}


def main() -> int:
    asked = asking(__doc__)
    asked.add_argument("--parts", type=int, default=100)
    asked.add_argument("--prove", action="store_true", help="prove the sheets, lay out none")
    asked.add_argument("--family", action="append", default=[], help="these families alone")
    asked.add_argument("--limit", type=float, default=7.5, help="a worse score is a fault")
    asked.add_argument("--until", default="", help="stop at this time of the day, as 08:00")
    given = asked.parse_args()
    names = list(drawn_from())
    pieces = {
        f"{number:05d}": (f"{given.seed} {number} {given.prove}", (given.seed, number, given.prove))
        for number in range(given.parts)
        if not given.family or names[number % len(names)] in given.family
    }
    scores: list[tuple[float, str]] = []
    tally: dict[str, Counter[str]] = {}
    for key, row in rows_done(sheets_of, pieces, COLUMNS, given):
        many = tally.setdefault(row["family"], Counter())
        worst = float(row["score"] or 0.0)
        bad = bool(row["fault"]) or worst > given.limit
        many.update(parts=1, faults=bad, refused=bool(row["refused"]))
        if row["fault"]:
            print(f"--- {key} {row['family']}: fault\n{row['fault']}{row['stated']}", flush=True)
        elif not given.prove:
            scores.append((worst, row["stated"]))
            print(f"{key} {row['family']}: {worst:.2f}", flush=True)
        elif row["refused"]:
            print(f"{key} {row['family']}: refused: {row['refused']}", flush=True)
        if given.until and time.strftime("%H:%M") >= given.until:
            break
    for worst, text in sorted(scores)[-WORST:]:
        print(f"--- score {worst:.2f}\n{text}")
    for name, many in sorted(tally.items()):
        print(f"{name}: {many['parts']} parts, {many['refused']} refused, {many['faults']} faults")
    return int(any(many["faults"] for many in tally.values()))


if __name__ == "__main__":
    raise SystemExit(main())
