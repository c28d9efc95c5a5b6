"""Work done side by side gives what it gives one after another."""

import concurrent.futures
import os

import pytest

from parts.cli import side_by_side as sidebyside
from parts.cli.side_by_side import side_by_side


def test_results_keep_their_order():
    assert side_by_side(lambda n: n * n, list(range(20))) == [n * n for n in range(20)]
    assert side_by_side(lambda n: n, []) == []


def test_results_keep_their_order_whatever_is_begun_first(monkeypatch):
    monkeypatch.setattr(sidebyside, "_cores", lambda: 2)
    assert side_by_side(lambda n: n * n, [3, 1, 2], effort=lambda n: n) == [9, 1, 4]


def test_what_takes_longest_is_begun_first(monkeypatch):
    begun = []

    class InTurn:
        def __init__(self, *_, **__):
            pass

        def __enter__(self):
            return self

        def __exit__(self, *_):
            return None

        def map(self, work, order):
            begun.extend(order)
            return [work(i) for i in order]

    monkeypatch.setattr(sidebyside, "_cores", lambda: 2)
    monkeypatch.setattr(concurrent.futures, "ProcessPoolExecutor", InTurn)
    assert side_by_side(str, [3, 1, 2, 9], effort=float) == ["3", "1", "2", "9"]
    assert begun == [3, 0, 2, 1]


def test_a_copy_that_is_ended_from_outside_is_not_waited_for(monkeypatch):
    """As where the machine runs out of memory: the work is done all the same."""
    own = os.getpid()

    def work(n):
        if n == 2 and os.getpid() != own:
            os._exit(9)
        return n * n

    monkeypatch.setattr(sidebyside, "_cores", lambda: 2)
    assert side_by_side(work, [1, 2, 3]) == [1, 4, 9]


def test_several_cores_share_the_work(monkeypatch):
    monkeypatch.setattr(sidebyside, "_cores", lambda: 2)
    ids = side_by_side(lambda _: os.getpid(), [0, 1, 2, 3])
    assert os.getpid() not in ids


def test_one_core_does_it_itself(monkeypatch):
    monkeypatch.setattr(sidebyside, "_cores", lambda: 1)
    assert set(side_by_side(lambda _: os.getpid(), [0, 1])) == {os.getpid()}


def test_what_fails_is_told():
    def work(n):
        if n == 2:
            raise ValueError("no such thing as two")
        return n

    with pytest.raises(ValueError, match="no such thing as two"):
        side_by_side(work, [1, 2, 3])
