"""Short pieces of work side by side, where the machine has more than one core."""

from __future__ import annotations

import multiprocessing
import os
import signal
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
        Exception: whatever a piece of work that failed has raised.
    """
    cores = min(_cores(), len(items))
    # Elsewhere a copy would import everything anew, or is not safe.
    if (
        cores < 2
        or not sys.platform.startswith("linux")
        or multiprocessing.current_process().daemon
    ):
        return [work(item) for item in items]
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    global _work
    _work = lambda i: work(items[i])  # noqa: E731
    try:
        order = sorted(range(len(items)), key=lambda i: -effort(items[i]))
        fork = multiprocessing.get_context("fork")
        with ProcessPoolExecutor(cores, mp_context=fork, initializer=_obey) as pool:
            done = dict(zip(order, pool.map(_one, order), strict=True))
        return [done[i] for i in range(len(items))]
    except BrokenProcessPool:
        # A copy was ended from outside, as where memory runs short: one at a time needs less of it.
        return [work(item) for item in items]
    finally:
        _work = None


_work: Callable[[int], object] | None = None
"""What the copies do; set before they are made."""


def _obey() -> None:
    """Let Ctrl-C end a copy at once and without a word; who began it says what there is to say."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _one(i: int) -> object:
    assert _work is not None
    return _work(i)


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
