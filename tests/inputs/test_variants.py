"""Arrays of variants give the numbers that one part at a time gives."""

import numpy as np
import pytest

from parts.families import families
from parts.inputs.reading import with_values

RANGES = {
    "ears.thickness": (5.0, 8.0),
    "ears.width": (20.0, 26.0),
    "ears.depth": (20.0, 26.0),
    "ears.floor_thickness": (7.0, 12.0),
    "ears.pin.diameter": (7.0, 9.525),
}

# Alike to rounding: the order in which numpy adds and its own powers differ in the last bits.
ROUNDING = 1e-12


@pytest.mark.parametrize("count", [50_000, pytest.param(1_000_000, marks=pytest.mark.slow)])
def test_many_clevises_are_the_same_as_one_at_a_time(count):
    random = np.random.default_rng(3)
    part = families()["clevis"](**families()["clevis"].example)
    values = {path: random.uniform(*ends, count) for path, ends in RANGES.items()}
    many = with_values(part, values)
    rows = np.concatenate([[0, count - 1], random.integers(0, count, 20)])
    alone = [with_values(part, {p: float(v[row]) for p, v in values.items()}) for row in rows]
    with np.errstate(all="ignore"):
        for rule, *ones in zip(many.rules(), *(one.rules() for one in alone), strict=True):
            met = np.broadcast_to(rule.ok, (count,))[rows]
            assert met.tolist() == [bool(one.ok) for one in ones], rule.code
        for case in part.loads:
            every = zip(many.modes(case), *(one.modes(case) for one in alone), strict=True)
            for check, *ones in every:
                assert {one.name for one in ones} == {check.name}
                for name in ("demand", "capacity", "factor"):
                    got = np.broadcast_to(getattr(check, name), (count,))[rows]
                    expected = [float(getattr(one, name)) for one in ones]
                    np.testing.assert_allclose(got, expected, rtol=ROUNDING, err_msg=check.name)
                valid = np.broadcast_to(check.in_range, (count,))[rows]
                assert valid.tolist() == [bool(one.in_range) for one in ones], check.name


@pytest.mark.parametrize(
    ("family", "path", "low", "high"),
    [
        ("adjustable link", "eccentricity", 0.0, 2.0),
        ("foot-control bracket", "peg.height", 70.0, 90.0),
        ("gusset plate", "weld.leg", 2.0, 2.5),
        ("heim-joint turnbuckle", "eccentricity", 0.0, 1.0),
        ("torsion-bar arm", "bar.diameter", 19.0, 23.0),
    ],
)
def test_other_families_too(family, path, low, high):
    """One dimension each that leaves the stock's thickness, and with it the strength, as it was."""
    part = families()[family](**families()[family].example)
    sizes = np.linspace(low, high, 7)
    many = with_values(part, {path: sizes})
    alone = [with_values(part, {path: float(size)}) for size in sizes]
    for case in part.loads:
        factors = [{one.name: float(one.factor) for one in each.modes(case)} for each in alone]
        for check in many.modes(case):
            got = np.broadcast_to(check.factor, sizes.shape)
            expected = [one.pop(check.name) for one in factors]
            np.testing.assert_allclose(got, expected, rtol=ROUNDING, err_msg=check.name)


def test_one_of_several_alike_is_changed_whole():
    part = families()["foot-control bracket"](**families()["foot-control bracket"].example)
    wider = part.changed({"mounts[1].onto": "4.5 mm"})
    again = part.changed({"mounts[1]": wider.mounts[0]})
    assert again.mounts == wider.mounts
    with pytest.raises(KeyError, match=r"mounts\[10\]"):
        part.changed({"mounts[10]": wider.mounts[0]})
