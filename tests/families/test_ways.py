"""The catalogue of what can fail: no way of failing of any family and option is without an answer."""

import inspect
from functools import cache
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest
from options import options

from parts.core.check import check
from parts.core.loads import Block
from parts.core.ways import WHOLE, Kind, answers, kind_names, tally, ways, ways_of
from parts.families import families

OPEN = (Path(__file__).parent / "open_ways.txt").read_text("utf-8").splitlines()
"""What is known to be open: family, kind and way. The list only ever grows shorter."""


def cycled(part):
    """The part with a spectrum under every load case."""
    spectrum = [Block(cycles=2e4, share=0.5)]
    cases = [case.model_copy(update={"spectrum": spectrum}) for case in part.loads]
    return part.model_copy(update={"loads": cases})


@cache
def checked(family, name):
    """The result of an option of a family."""
    return cycled(options(family)[name]).check()


def found(family, names):
    """The results of some options of a family."""
    return {name: checked(family, name) for name in names(family)}


def few(family):
    """As few options of a family as hold every kind of joint and member that any of them holds."""
    held = {
        name: {(one.name, *one.left_out) for one in part.kinds()}
        for name, part in options(family).items()
    }
    taken, missing = [], set().union(*held.values())
    while missing:
        taken.append(max(held, key=lambda name: len(held[name] & missing)))
        missing -= held[taken[-1]]
    return taken


EACH = pytest.mark.parametrize(
    ("family", "names"),
    [
        *((family, few) for family in families()),
        *(pytest.param(family, options, marks=pytest.mark.slow) for family in families()),
    ],
    ids=lambda one: one if isinstance(one, str) else one.__name__,
)


@EACH
def test_no_way_of_failing_is_without_an_answer(family, names):
    holes = {
        f"{family} | {one.kind.name} | {one.way.name}"
        for result in found(family, names).values()
        for one in result.answers
        if one.open
    }
    known = {line for line in OPEN if line.startswith(f"{family} | ")}
    assert not holes - known, sorted(holes - known)
    assert not known - holes, f"answered now, take them off the list: {sorted(known - holes)}"


@EACH
def test_every_check_answers_a_row(family, names):
    """A check that stands under no row shows that the catalogue lacks one."""
    lone = {
        one.name
        for result in found(family, names).values()
        for one in result.checks
        if one.name not in {each.name for answer in result.answers for each in answer.checks}
    }
    assert not lone, sorted(lone)


@EACH
def test_no_check_of_a_usual_part_is_not_a_number(family, names):
    silent = {
        (name, one.name)
        for name, result in found(family, names).items()
        for one in result.checks
        if np.isnan(float(one.factor))
    }
    assert not silent, sorted(silent)


def test_the_methods_it_names_are_methods():
    for way in ways():
        for dotted in way.methods:
            module, name = f"parts.strength.{dotted}".rsplit(".", 1)
            function = getattr(import_module(module), name)
            assert inspect.isfunction(function) and function.source, dotted


def test_every_row_says_what_and_whence():
    assert len(ways()) >= 150
    keys = [(way.kind, way.name) for way in ways()]
    assert len({*keys}) == len(keys)
    for way in ways():
        assert way.what and way.source, way
        assert way.methods or way.checks or way.left_out, way


def test_every_kind_stands_in_some_part():
    parts = [part for family in families() for part in options(family).values()]
    assert {one.name for part in parts for one in part.kinds()} | {WHOLE} == set(kind_names())


def some_check(name, mode="bending"):
    return check(name, mode, load_case="", demand=1.0, capacity=2.0, unit="N", required=1.5)


def test_a_check_answers_at_its_own_place_alone():
    at = {f"mount {k}": [Kind("mount boss", f"mount {k}")] for k in (1, 10)}
    said = [some_check("mount 10 boss, bending at the root, yield")]
    assert [one.open for one in answers(at["mount 1"], said, True)] == [True]
    assert [one.open for one in answers(at["mount 10"], said, True)] == [False]


def test_a_reason_answers_and_is_counted():
    kind = Kind("plug weld", "spigot", left_out={"sharedly": "why"})
    with pytest.raises(KeyError, match="has no way"):
        answers([kind], [], True)
    [way] = ways_of("plug weld")
    stated = Kind(
        "plug weld", "spigot", left_out={way.name: "two of them carry ten times the pull"}
    )
    said = tally(answers([stated, Kind("mount boss", "mount 1")], [], True)).said
    assert said == (
        f"0 ways of failing checked, 1 left out ({way.name}), 1 not looked at (boss bent at its root)"
    )


def test_fatigue_without_a_spectrum_is_said_to_be_left_out():
    rows = answers([Kind("pin", "ear pin")], [], cycled=False)
    [fatigue] = [one for one in rows if one.way.under_cycles]
    assert fatigue.reason == "no load case states a spectrum of cycles"
    [fatigue] = [one for one in answers([Kind("pin", "ear pin")], [], True) if one.way.under_cycles]
    assert fatigue.open


def test_a_kind_that_the_catalogue_does_not_have():
    with pytest.raises(KeyError, match="no kind 'rivet'"):
        answers([Kind("rivet")], [], True)
