"""Work done side by side gives what it gives one after another."""

import os

import pytest

from parts import sidebyside
from parts.sidebyside import side_by_side


def test_results_keep_their_order():
    assert side_by_side(lambda n: n * n, list(range(20))) == [n * n for n in range(20)]
    assert side_by_side(lambda n: n, []) == []


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
