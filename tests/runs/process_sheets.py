"""Plans how random parts are made, and holds every plan against its solid.

    python tests/runs/process_sheets.py --count 100 --seed 1 --until 08:00

Every face of a solid is made by one step or bought; no step leaves the stock; every hole is as deep as its step says.
Parts whose tools do not reach are counted, for they are refused. Prints a line a fault and the counts.
"""

from __future__ import annotations

import random
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "making" / "process"))

from drawn import valid_parts
from held import faults, plans
from rows_done import asking, rows_done

from parts.core.part import Part


def planned(piece: Part) -> dict[str, object]:
    """Whether a part is refused for its tools, and what is wrong with its plans."""
    try:
        made = plans(piece)
        found = [fault for one in made for fault in faults(one)]
        refused = any(not rule.ok for one in made for rule in one.plan.rules)
    except Exception as error:
        found, refused = [repr(error)], False
    name = f"{piece.family} {piece.name}"
    return {"part": name, "refused": int(refused), "fault": "\n".join(map(str, found))}


def run(given: Any) -> Counter[str]:
    """Plan so many parts, or as many as there is time for."""
    counts: Counter[str] = Counter()
    pieces = {
        f"{i}": (f"{type(part).__qualname__} {part.model_dump()!r}", part.model_copy())
        for i, (_, part) in enumerate(valid_parts(random.Random(given.seed), given.count))
    }
    for _, row in rows_done(planned, pieces, ("part", "refused", "fault"), given):
        counts["parts"] += 1
        counts["refused for their tools"] += row["refused"] == "1"
        counts["with faults"] += bool(row["fault"])
        for fault in filter(None, row["fault"].splitlines()):
            print(f"{row['part']}: {fault}", flush=True)
        if given.until and time.strftime("%H:%M") >= given.until:
            break
    return counts


def main() -> None:
    parser = asking(__doc__)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--until", default="")
    counts = run(parser.parse_args())
    print(", ".join(f"{name}: {count}" for name, count in counts.items()))
    sys.exit(bool(counts["with faults"]))


if __name__ == "__main__":
    main()
