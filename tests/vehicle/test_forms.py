"""The named forms: each against its geometry written out, and each slip with its line and field."""

import math

import numpy as np
import pytest
from builds import BUILD, CLEVIS, write
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.inputs.problems import InputError
from parts.inputs.units import ANGLE, FORCE, LENGTH, Units, read_number
from parts.vehicle.build import Build
from parts.vehicle.file.forms import FormError, is_form, nearest, points_of, resolve
from parts.vehicle.file.places import frame

PLACE = frame((10.0, 20.0, 30.0), {"x": (0.0, 1.0, 0.0), "z": (1.0, 0.0, 0.0)})
UNITS = Units(length="mm")
# Forms are rounded to 1e-9 mm or rad.
ROUNDING = 1e-8


class Points:
    """Hardpoints alone, and one part that others take from."""

    def __init__(self, **points):
        self.points = {name: np.asarray(at, float) for name, at in points.items()}

    def point(self, name):
        return self.points[name]

    def known_points(self):
        return self.points

    def frame(self):
        return PLACE

    def own(self, name):
        if name in (own := {"plate.thickness": 24, "title": "a plate"}):
            return own[name]
        raise KeyError(f"this file states no `{name}`; name a field of it")

    def value(self, owner, name):
        if owner == "HC-1":
            return {"length": (40.0, LENGTH), "thread": ("M8", None)}[name]
        raise KeyError(f"there is no part `{owner}`; there is HC-1")


SOURCE = Points(a=(0, 0, 0), b=(30, 40, 0), c=(0, 0, 12), d=(0, 5, 12), e=(0, 0, 0))


def length(form, source=SOURCE):
    return read_number(resolve(form, source, UNITS), LENGTH, None)


def angle(form, source=SOURCE):
    return read_number(resolve(form, source, UNITS), ANGLE, None)


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        ({"distance": ["a", "b"]}, 50.0),
        ({"distance": ["b", "a"], "along": "x"}, 30.0),
        ({"offset": "a", "from": "b", "along": "y"}, -40.0),
        ({"offset": "c", "from": "a", "along": "down"}, -12.0),
        ({"of": "HC-1", "value": "length"}, 40.0),
        ({"sum": [{"distance": ["a", "b"]}, "1 in", 2]}, 50.0 + 25.4 + 2.0),
        ({"less": [{"distance": ["a", "b"]}, "6 mm", "4 mm"]}, 40.0),
        ({"half": {"distance": ["a", "b"]}}, 25.0),
        ({"less": [{"distance": ["a", "b"]}, {"own": "plate.thickness"}]}, 26.0),
        # The part's y is the vehicle's z, 30 below its origin: the third of b's coordinates.
        ({"point": "b", "axes": "y"}, -30.0),
        ({"sum": [{"point": "b", "axes": "x"}, "1 mm"]}, 21.0),
    ],
)
def test_lengths(form, expected):
    assert length(form) == pytest.approx(expected, abs=ROUNDING)


def test_angles_add_up():
    quarter = {"angle": [["a", "c"], ["c", "d"]]}
    assert angle(quarter) == pytest.approx(math.pi / 2.0, abs=ROUNDING)
    assert angle({"sum": [quarter, "15 deg"]}) == pytest.approx(math.radians(105.0), abs=ROUNDING)


def test_a_point_in_the_axes_of_the_part():
    # The part's x is the vehicle's y, its z the vehicle's x, and so its y the vehicle's z.
    found = resolve({"point": "b", "axes": "xyz"}, SOURCE, UNITS)
    assert [read_number(v, LENGTH, None) for v in found] == pytest.approx([20.0, -30.0, 20.0])
    assert resolve({"point": "b"}, SOURCE, UNITS) == found[:2]


def test_a_force_along_a_line_in_the_axes_of_the_part():
    # From a to b the vehicle's (3, 4, 0)/5, which are the part's (4, 0, 3)/5.
    found = resolve({"toward": ["a", "b"], "size": "2 kN"}, SOURCE, UNITS)
    assert [read_number(v, FORCE, None) for v in found] == pytest.approx([1600.0, 0.0, 1200.0])
    back = resolve({"toward": ["b", "a"], "size": "2 kN"}, SOURCE, UNITS)
    assert [read_number(v, FORCE, None) for v in back] == pytest.approx([-1600.0, 0.0, -1200.0])


def test_a_designation_is_taken_as_it_is_written():
    assert resolve({"of": "HC-1", "value": "thread"}, SOURCE, UNITS) == "M8"


vectors = st.tuples(*[st.floats(-500.0, 500.0)] * 3)


@given(vectors, vectors, vectors)
def test_a_triangle_closes(a, b, c):
    source = Points(a=a, b=b, c=c)
    sides = [np.linalg.norm(np.subtract(p, q)) for p, q in ((a, b), (b, c), (c, a))]
    assume(min(sides) > 1e-3)
    turns = [{"angle": [[p, q], [p, r]]} for p, q, r in ("abc", "bca", "cab")]
    # acos near a flat angle loses half the digits; atan2 does not: rounding of the forms alone.
    assert sum(angle(one, source) for one in turns) == pytest.approx(math.pi, abs=1e-6)
    assert length({"distance": ["a", "b"]}, source) == pytest.approx(sides[0], abs=ROUNDING)


@pytest.mark.parametrize(
    ("form", "code", "path"),
    [
        ({"distance": ["a", "zzz"]}, "unknown_hardpoint", ("distance", 1)),
        ({"distance": ["a", "e"]}, "coincide", ()),
        ({"distance": ["a", "b", "c"]}, "bad_form", ("distance",)),
        ({"distance": ["a", "b"], "along": "sideways"}, "bad_axis", ("along",)),
        ({"angle": [["a", "b"]]}, "bad_form", ("angle",)),
        ({"angle": [["a", "b"], ["a", "e"]]}, "coincide", ("angle", 1)),
        ({"of": "HC-9", "value": "length"}, "unknown_value", ("value",)),
        ({"sum": [{"distance": ["a", "b"]}, "3 deg"]}, "bad_form", ()),
        ({"half": {"of": "HC-1", "value": "thread"}}, "bad_form", ()),
        ({"sum": [{"distance": ["a", "b"]}, "3 bananas"]}, "unknown_unit", ("sum", 1)),
        ({"point": "a", "axes": "uv"}, "bad_axis", ("axes",)),
        ({"sum": [{"point": "a", "axes": "xy"}, "1 mm"]}, "bad_axis", ("sum", 0, "axes")),
        ({"toward": ["a", "e"], "size": "1 N"}, "coincide", ("toward",)),
        ({"toward": ["a", "zzz"], "size": "1 N"}, "unknown_hardpoint", ("toward", 1)),
        ({"toward": ["a", "b"], "size": "3 mm"}, "wrong_kind", ("size",)),
        ({"own": "plate.width"}, "unknown_value", ("own",)),
        ({"half": {"own": "title"}}, "not_a_quantity", ("half", "own")),
    ],
)
def test_slips_are_refused_where_they_stand(form, code, path):
    with pytest.raises(FormError) as caught:
        resolve(form, SOURCE, UNITS)
    assert (caught.value.code, caught.value.path) == (code, path)
    assert caught.value.right


@pytest.mark.parametrize(
    "data",
    [{"angle": "30 deg"}, {"type": "slot", "angle": 10}, {"point": "a", "height": 3}, {}, [1], "a", None,
     {"distance": "12 mm"}, {"up": 1, "down": 2}, {"toward": "front", "size": 3}, {"own": 1, "height": 2}],
)  # fmt: skip
def test_groups_of_dimensions_are_no_forms(data):
    assert not is_form(data)


def test_points_within_forms_are_found():
    form = {
        "less": [
            {"sum": [{"distance": ["a", "b"]}, "3 mm"]},
            {"offset": "c", "from": "d", "along": "x"},
        ]
    }
    assert sorted(points_of(form)) == ["a", "b", "c", "d"]


def test_messages_point_at_the_line_of_the_part(tmp_path):
    path = write(tmp_path, BUILD, {"a.yaml": "{distance: [one, too]}", "b.yaml": "30 mm"})
    with pytest.raises(InputError) as caught:
        Build(path).part("A")
    (problem,) = caught.value.problems
    line = CLEVIS.splitlines().index("  length: {length}") + 1
    assert (problem.file, problem.line) == (str(tmp_path / "a.yaml"), line)
    assert problem.field == "shank.length.distance[2]"
    assert "nearest is `two`" in str(problem)


def test_a_broken_rule_shows_what_was_taken(tmp_path):
    path = write(tmp_path, BUILD, {"a.yaml": "{distance: [one, aside]}", "b.yaml": "30 mm"})
    with pytest.raises(InputError) as caught:
        Build(path).part("A")
    (problem,) = caught.value.problems
    assert problem.field == "shank.length" and problem.line > 0
    assert '200.0 mm from {"distance": ["one", "aside"]}' in str(problem)


def test_a_line_as_it_looks_from_the_side():
    """3 forward and 4 up is 5 long and 53.13 deg steep from the side, however far it runs sideways."""
    source = Points(a=(0, 0, 0), b=(3, 12, 4), c=(1, -7, 0))
    assert length({"distance": ["a", "b"], "seen": "y"}, source) == pytest.approx(5.0)
    steep = angle({"angle": [["a", "c"], ["a", "b"]], "seen": "left"}, source)
    assert steep == pytest.approx(math.atan2(4.0, 3.0))
    with pytest.raises(FormError, match="coincide"):
        length({"distance": ["a", "c"], "seen": "x"}, Points(a=(0, 0, 0), c=(5, 0, 0)))


def test_a_name_like_no_other_is_answered_by_a_few_of_many():
    many = [f"point {k}" for k in range(40)]
    assert nearest("point 7x", many) == "nearest is `point 7`"
    said = nearest("zz", many)
    assert said.startswith("most like it of 40 are ") and said.count(",") == 4
    assert nearest("zz", ["a", "b"]) == "there are a, b" and nearest("zz", []) == "there are none"
