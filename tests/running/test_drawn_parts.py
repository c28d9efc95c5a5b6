"""Parts that the long runs draw: of every family, as their files state them, each by its number."""

import random
from types import SimpleNamespace

import drawn
import random_parts

from parts.families import families


def test_what_is_stated_of_every_part_reads_back_as_that_part():
    """A bolt states its own thread: stated beside it, no lever was drawn at all, and hardly a mount plate."""
    for name, parts in drawn.pool().items():
        assert parts, name
        for part in parts:
            assert drawn.stated(
                families()[name].model_validate(drawn.stated(part))
            ) == drawn.stated(part)


def test_each_family_has_its_turn_and_a_number_gives_one_part(monkeypatch):
    monkeypatch.setattr(drawn, "drawn_from", drawn.pool)
    many = len(families())
    once = [drawn.valid_part(random.Random(f"1 {i}"), i) for i in range(many)]
    assert [part.family for _, part in once] == list(families())
    assert drawn.valid_part(random.Random(f"1 {many - 1}"), many - 1)[0] == once[-1][0]


def test_parts_that_are_made_are_spread_over_those_that_are_checked():
    given = SimpleNamespace(seed=1, check=20, make=3, whole=3)
    asked = random_parts.asked_for(given).values()
    assert [number for _, number, _, makes, _ in asked if makes] == [6, 13, 19]
    assert [number for _, number, _, _, whole in asked if whole] == [19]
    assert all(checks for _, _, checks, _, _ in asked)
