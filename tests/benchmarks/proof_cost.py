"""What the proof of each demo part costs: processor time, most memory, unknowns, and the error that it achieved.

It is no test and is not collected. Run it from the repository, on a quiet machine:

    python tests/benchmarks/proof_cost.py [FILE...]

Each part is proved in a process of its own, one after the other, with pictures as the command draws them. It ends
with 1 where a part does not reach its error, or where all of them together take two cores longer than a minute.
"""

import os
import sys
import time
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"

from parts import load
from parts.proof.refine import Aim
from parts.proof.workers import prove_all

PARAMS = Path(__file__).parents[2] / "params"
GOAL_SECONDS, CORES = 60.0, 2


def processor_seconds() -> float:
    """Processor time of this process and of all that it started and that ended."""
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def main() -> int:
    files = [Path(one) for one in sys.argv[1:]] or sorted(PARAMS.glob("hc-1*.yaml"))
    print("part     pieces cases  unknowns   error of energy     MB  CPU s      s")
    total, short = 0.0, False
    for file in files:
        part = load(file)
        before, started = processor_seconds(), time.monotonic()
        (proof,) = prove_all([part], Aim(), jobs=1, pictures=True)
        spent, took = processor_seconds() - before, time.monotonic() - started
        total += spent
        for text in proof.failed:
            print(f"{part.name:8} {text}")
        short |= bool(proof.failed) or not all(piece.reached for piece in proof.pieces)
        worst = max((piece.error for piece in proof.pieces), default=float("nan"))
        cases = sum(len(piece.cases) for piece in proof.pieces)
        most = max((piece.unknowns for piece in proof.pieces), default=0)
        print(
            f"{part.name:8} {len(proof.pieces):6d} {cases:5d} {most:9,d} {worst:7.1%} {worst**2:9.2%} "
            f"{proof.memory_mb:6.0f} {spent:6.1f} {took:6.1f}"
        )
    print(f"all: {total:.0f} s of processor time, {total / CORES:.0f} s on {CORES} idle cores")
    return int(short or total / CORES > GOAL_SECONDS)


if __name__ == "__main__":
    raise SystemExit(main())
