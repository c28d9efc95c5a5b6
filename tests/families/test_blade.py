"""The blade of an arm: its fillets touch, and what it takes up is what plane geometry says."""

import numpy as np
import pytest
import torsion_arms
from by_turns import by_turns

from parts.features.arm import blade_solid
from parts.features.arm.arm import Arm, Pocket
from parts.features.arm.blade import Blade
from parts.strength.section.properties import properties

POCKET = Pocket(floor=5.0, flange=6.0, corner=5.0, hub_end=15.0, far_end=12.0)


def blade(eye: float = 18.0, **changes) -> Blade:
    size = {"length": 180.0, "width": 36.0, "end_width": 24.0, "thickness": 18.0, **changes}
    return Blade(Arm(**size), 25.0, 180.0, eye)


@pytest.mark.parametrize("end_width", [24.0, 36.0, 30.0])
@pytest.mark.parametrize("where", ["root", "tip"])
def test_fillets_touch_circle_and_side(where, end_width):
    made = blade(end_width=end_width, eye=22.0)
    fillet = getattr(made, where)()
    centre, radius = ((0.0, 0.0), 25.0) if where == "root" else ((180.0, 0.0), 22.0)
    assert np.hypot(*np.subtract(fillet.centre, centre)) == pytest.approx(radius + fillet.radius)
    assert np.hypot(*np.subtract(fillet.rim, centre)) == pytest.approx(radius)
    x, y = fillet.side
    assert y == pytest.approx(made.straight(x))
    along = np.array([1.0, made.slope])
    assert np.dot(np.subtract(fillet.side, fillet.centre), along) == pytest.approx(0.0, abs=1e-9)


def test_fillet_on_a_block_touches_its_face_and_the_side():
    made = blade(eye=0.0, end_fillet=4.0)
    fillet = made.tip()
    assert fillet.rim[0] == 180.0
    assert fillet.centre[0] == 176.0
    off = (fillet.centre[1] - made.straight(fillet.centre[0])) / np.sqrt(1.0 + made.slope**2)
    assert off == pytest.approx(4.0)


def test_half_width_is_one_line_through_fillets_and_sides():
    made = blade(width=24.0, end_width=16.0, root_fillet=20.0)
    x = np.linspace(made.start, made.end, 20001)
    y = made.half_width(x)
    assert y[0] > made.straight(x[0]) and y[-1] > made.straight(x[-1])
    # No step anywhere: between neighbours 0.007 mm apart it changes by little more than their distance.
    assert np.abs(np.diff(y)).max() < 0.02


def test_section_of_an_i_is_that_of_its_rectangles():
    made = blade(pocket=POCKET, end_width=36.0)
    section = properties(made.pocketed_outline(np.asarray(100.0), 0.0))
    b, h, w, f = 36.0, 18.0, 36.0 - 12.0, 5.0
    assert section.area == pytest.approx(b * h - w * (h - f))
    assert section.Izz == pytest.approx((h * b**3 - (h - f) * w**3) / 12.0)
    assert section.Iyy == pytest.approx((b * h**3 - w * (h**3 - f**3)) / 12.0)


def test_edge_breaks_take_their_triangles_away():
    sharp, broken = (properties(blade().outline(np.asarray(100.0), c)).area for c in (0.0, 1.0))
    # Four triangles of 1 mm legs; the legs across the arm are longer by the slope of its sides.
    assert sharp - broken == pytest.approx(2.0 * np.sqrt(1.0 + blade().slope ** 2))


@pytest.mark.parametrize(
    "changes",
    [
        {},
        pytest.param({"crank": 15.0, "end_thickness": 12.0}, marks=pytest.mark.slow),
        {"pocket": POCKET},
    ],
)
@pytest.mark.parametrize("c", by_turns([0.8, 0.0]))
def test_solid_has_the_volume_of_its_sections(changes, c):
    import cadquery as cq

    made = blade(**changes)
    solid = blade_solid.solid(made, 20.0, c).val()
    assert solid.isValid()
    low, high = (made.start, made.end)
    if made.arm.pocket is not None:
        low, high = made.pocket_span()
        low, high = low + 1.0, high - 1.0
    x = np.linspace(low, high, 2001)
    outline = made.pocketed_outline if made.arm.pocket is not None else made.outline
    expected = np.trapezoid(properties(outline(x, c)).area, x)
    box = cq.Workplane("XY").box(high - low, 200.0, 200.0).translate(((low + high) / 2.0, 0, 0))
    found = box.intersect(cq.Workplane(obj=solid)).val().Volume()
    # Trapezoids over 0.06 mm, and chords for the hyperbolas of broken fillets.
    assert found == pytest.approx(expected, rel=2e-4)


def test_arrays_give_what_single_values_give():
    x = np.array([[40.0], [100.0]])
    many = blade(width=36.0, root_fillet=8.0)
    wide = Blade(many.arm.model_copy(update={"width": np.array([34.0, 36.0])}), 25.0, 180.0, 18.0)
    found = properties(wide.outline(x, 0.4)).area
    for i, width in enumerate((34.0, 36.0)):
        one = blade(width=width, root_fillet=8.0)
        np.testing.assert_allclose(found[:, i], properties(one.outline(x[:, 0], 0.4)).area)


def test_a_fillet_that_ends_within_the_hub_is_felt_at_the_first_section():
    """A blade 40 wide on a hub of 54: elements gave 1.18 times the stress of its first section on the fillet, which
    lies before it."""
    blade = torsion_arms.arm(
        hub__diameter="54 mm", arm__width="40 mm", arm__root_fillet="9.8 mm"
    ).blade
    assert blade.root().side[0] < blade.start - 4.9
    assert 1.18 <= float(blade.notch(blade.start).K_t) <= 1.8
    assert float(blade.notch(0.5 * (blade.start + blade.end)).K_t) == 1.0
