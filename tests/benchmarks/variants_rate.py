"""Variants of a clevis a second, on one core: every rule, and every check but the stress along the load path.

It is no test and is not collected. Run it from the repository:

    python tests/benchmarks/variants_rate.py

It prints the best of five runs for several sizes of array by processor time, which tells a slow calculation
from a busy machine, and ends with 1 where the best size stays below the goal.
"""

import os
import time

os.environ["OPENBLAS_NUM_THREADS"] = "1"

import numpy as np

from parts.families.clevis.family import Clevis
from parts.inputs.reading import with_values

GOAL = 200_000
RUNS = 5
RANGES = {
    "ears.thickness": (5.0, 8.0),
    "ears.width": (20.0, 26.0),
    "ears.depth": (20.0, 26.0),
    "ears.floor_thickness": (7.0, 12.0),
}


def variants(count):
    """The example with four of its dimensions drawn at random, the same on every run."""
    random = np.random.default_rng(1)
    values = {path: random.uniform(*ends, count) for path, ends in RANGES.items()}
    return with_values(Clevis(**Clevis.example), values)


def worst_use(part, count):
    """Whether the rules are met, and the largest share of an allowable used, of every variant."""
    met, use = np.ones(count, bool), np.zeros(count)
    with np.errstate(all="ignore"):
        for rule in part.rules():
            met &= rule.ok
        for case in part.loads:
            for check in part.modes(case):
                use = np.fmax(use, check.use)
    return met, use


def main() -> int:
    best = 0.0
    for count in (1_000, 5_000, 20_000, 100_000):
        part = variants(count)
        times = []
        for _ in range(RUNS):
            start = time.process_time()
            worst_use(part, count)
            times.append(time.process_time() - start)
        rate = count / min(times)
        best = max(best, rate)
        checks = sum(len(list(part.modes(case))) for case in part.loads)
        print(
            f"{count:>7} at once: {rate:>12,.0f} a second ({len(list(part.rules()))} rules, {checks} checks)"
        )
    return int(best < GOAL)


if __name__ == "__main__":
    raise SystemExit(main())
