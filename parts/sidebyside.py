"""Short pieces of work side by side, where the machine has more than one core."""

from __future__ import annotations

import multiprocessing
import os
import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

T = TypeVar("T")
R = TypeVar("R")


def side_by_side(work: Callable[[T], R], items: Sequence[T]) -> list[R]:
    """Do a piece of work for every item, in copies of this process where these cost nothing to start.

    Args:
        work: what is done; its result must be fit to be sent from process to process.
        items: what it is done for; these are not sent, the copies have them.

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
            return pool.map(_one, range(len(items)), chunksize=1)
    finally:
        _work = None


_work: Callable[[int], object] | None = None
"""What the copies do; set before they are made."""


def _one(i: int) -> object:
    assert _work is not None
    return _work(i)


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
