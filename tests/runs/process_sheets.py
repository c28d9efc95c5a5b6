"""Plans how random parts are made, and holds every plan against its solid.

    python tests/runs/process_sheets.py --count 100 --seed 1 --until 08:00

Every face of a solid is made by one step or bought; no step leaves the stock; every hole is as deep as its step says.
Parts whose tools do not reach are counted, for they are refused. Prints a line a fault and the counts.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "making" / "process"))

from drawn import valid_parts
from held import faults, plans


def run(count: int, seed: int, until: str = "") -> Counter[str]:
    """Plan so many parts, or as many as there is time for."""
    counts: Counter[str] = Counter()
    for _, part in valid_parts(random.Random(seed), count):
        if until and time.strftime("%H:%M") >= until:
            break
        counts["parts"] += 1
        try:
            made = plans(part)
            found = [fault for one in made for fault in faults(one)]
            refused = any(not rule.ok for one in made for rule in one.plan.rules)
        except Exception as error:
            found, refused = [repr(error)], False
        counts["refused for their tools"] += refused
        counts["with faults"] += bool(found)
        for fault in found:
            print(f"{part.family} {part.name}: {fault}", flush=True)
    return counts


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--until", default="")
    given = parser.parse_args()
    counts = run(given.count, given.seed, given.until)
    print(", ".join(f"{name}: {count}" for name, count in counts.items()))
    sys.exit(bool(counts["with faults"]))


if __name__ == "__main__":
    main()
