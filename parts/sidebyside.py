"""Short pieces of work side by side, where the machine has more than one core."""

from __future__ import annotations

import multiprocessing
import os
import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

T = TypeVar("T")
R = TypeVar("R")


def side_by_side(
    work: Callable[[T], R], items: Sequence[T], effort: Callable[[T], float] = lambda _: 0.0
) -> list[R]:
    """Do a piece of work for every item, in copies of this process where these cost nothing to start.

    Args:
        work: what is done; its result must be fit to be sent from process to process.
        items: what it is done for; these are not sent, the copies have them.
        effort: how long each may take, in any measure; the longest are begun first, so that none is left to one
            copy when the others are done.

    Returns:
        The results, in the order of the items.

    Raises:
        Exception: whatever the first piece of work that failed has raised.
    """
    cores = min(_cores(), len(items))
    # Elsewhere a copy would import everything anew, or is not safe.
    if (
        cores < 2
        or not sys.platform.startswith("linux")
        or multiprocessing.current_process().daemon
    ):
        return [work(item) for item in items]
    global _work
    _work = lambda i: work(items[i])  # noqa: E731
    try:
        with multiprocessing.get_context("fork").Pool(cores) as pool:
            order = sorted(range(len(items)), key=lambda i: -effort(items[i]))
            done = pool.map(_one, order, chunksize=1)
            return [done[place] for place in sorted(range(len(items)), key=order.__getitem__)]
    finally:
        _work = None


_work: Callable[[int], object] | None = None
"""What the copies do; set before they are made."""


def _one(i: int) -> object:
    assert _work is not None
    return _work(i)


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
