"""The gusset plate: fit on the tubes, blank, solids held against sections, and checks redone by hand."""

import json

import cadquery as cq
import numpy as np
import pytest
from gussets import ACROSS, FLARE, LONG, OPTIONS, PIN, SIDE, TAB, WIDE, gusset, option
from hypothesis import HealthCheck, Phase, given, reject, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from pydantic import ValidationError

from parts import load
from parts.families.gusset import Gusset
from parts.inputs.problems import InputError
from parts.inputs.reading import file_schema, read_text, with_values
from parts.loadpath import carried
from parts.loads import Action, resultant
from parts.making.make import SHARP, SOFTENED, compared, model
from parts.strength.scan import stress_bound
from parts.strength.section import properties

ROUNDING = 1e-9
MANY = [HealthCheck.filter_too_much]  # the rules turn many sizes away, which is what they are for
DEMOS = ("params/hc-108-headstock-gusset.yaml", "params/hc-109-seat-gusset.yaml")


def tube(size, angle):
    """A solid round bar in place of a tube, from the joint outward."""
    along = cq.Vector(np.cos(angle), np.sin(angle), 0)
    return cq.Solid.makeCylinder(size.width_mm / 2.0, 300.0, cq.Vector(0, 0, 0), along)


def worst(part, t=0.5):
    """The largest difference of a cut of the solid from its outline, over the whole load path."""
    solids = {piece.name: piece.solid for piece in part.pieces}
    return max(compared(span, solids[span.piece], t)[2] for span in part.spans())


def named(part, name, case=0):
    (found,) = [one for one in part.modes(part.loads[case]) if one.name == name]
    return found


def broken(**changes):
    with pytest.raises(ValidationError) as caught:
        gusset(**changes)
    return str(caught.value)


# The solid


@pytest.mark.parametrize("name", OPTIONS)
def test_every_option_is_one_sound_solid_cut_as_its_sections_say(name):
    part = option(name)
    for piece in part.pieces:
        (solid,) = piece.solid.solids().vals()
        assert solid.isValid() and solid.Volume() > 0.0
    assert len(part.spans()) >= 3
    assert worst(part) < SHARP


@pytest.mark.parametrize("name", OPTIONS)
def test_with_edge_breaks_the_cuts_stay_in_their_band(name):
    part = option(name, edge_break=0.4)
    assert all(piece.solid.val().isValid() for piece in part.pieces)
    assert worst(part) < SOFTENED
    assert part.pieces[0].solid.val().Volume() < option(name).pieces[0].solid.val().Volume()


@pytest.mark.parametrize("name", ["three holes", "pair astride, flared", "tab"])
def test_options_go_through_the_making(name):
    made = model(option(name, edge_break=0.3))
    assert made.cuts and made.mass > 0.0


@pytest.mark.parametrize("name", OPTIONS)
def test_the_plate_clears_both_tubes_by_the_gap_and_touches_it(name):
    part = option(name, gap=0.25)
    for size, angle in ((part.tube_a, 0.0), (part.tube_b, part.angle)):
        bar = tube(size, angle)
        solid = part.pieces[0].solid.val()
        assert solid.intersect(bar).Volume() < ROUNDING
        # Arcs stand for the ellipse of a notch: a thousandth of a millimetre.
        assert_allclose(solid.distance(bar), 0.25, atol=1e-3)


def test_a_tube_pushed_through_the_gap_meets_the_plate():
    part = option("across", gap=0.25)
    for size, angle in ((part.tube_a, 0.0), (part.tube_b, part.angle)):
        along = cq.Vector(np.cos(angle), np.sin(angle), 0)
        thick = cq.Solid.makeCylinder(size.width_mm / 2.0 + 0.27, 300.0, cq.Vector(0, 0, 0), along)
        assert part.pieces[0].solid.val().intersect(thick).Volume() > 0.0


def test_a_moved_angle_forms_the_plate_anew():
    for angle in ("45 deg", "75 deg", "110 deg"):
        part = gusset(angle=angle, edge_break=0.0, plate=WIDE, gap=0.3)
        bar = tube(part.tube_b, part.angle)
        assert_allclose(part.pieces[0].solid.val().distance(bar), 0.3, atol=1e-6)
        assert worst(part) < SHARP


def test_left_and_right_mirror_each_other_with_rims_on_opposite_faces():
    part = option("left and right, flared")
    left, right = (piece.solid.val() for piece in part.pieces)
    assert_allclose(left.Volume(), right.Volume(), rtol=ROUNDING)
    a, b = left.BoundingBox(), right.BoundingBox()
    h = part.thickness / 2.0
    assert_allclose([a.zmin, a.zmax], [-h, h + 3.0], atol=1e-5)  # the rim stands 3 mm on the front
    assert_allclose([b.zmin, b.zmax], [-120.0 - h - 3.0, -120.0 + h], atol=1e-5)


def test_a_pair_astride_shares_every_action():
    part = option("pair astride, flared")
    one = Action(
        np.array([80.0, 90.0, 0.0]), np.array([100.0, -50.0, 30.0]), np.array([4e3, -7e3, 9e3])
    )
    halves = [half for share in part.arrangement.shares() for half in share.of([one])]
    assert len(halves) == 2
    for got, asked in zip(
        resultant(halves, np.zeros(3)), resultant([one], np.zeros(3)), strict=True
    ):
        assert_allclose(got, asked, rtol=ROUNDING, atol=1e-9)
    for half in halves:
        assert_allclose(
            half.moment[:2], 0.0
        )  # no plate is bent across its thickness by its share of a moment


# The blank


def test_the_blank_of_a_square_corner_has_its_closed_form_area():
    L, r, c = 100.0, 8.0, 12.0
    plate = {"type": "centre plane", "leg_a": L, "leg_b": L, "relief": {"type": "round", "size": c}}
    part = gusset(angle="90 deg", plate=plate, toe_radius=r, edge_break=0.0)
    s = r / np.sqrt(2.0)
    corners = [
        (0, 0), (L - r, 0), (L - r, r), (L - r + s, r + s), (r + s, L - r + s), (r, L - r), (0, L - r),
    ]  # fmt: skip
    x, y = np.array(corners).T
    polygon = 0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))
    toes = 2.0 * 0.5 * r**2 * np.radians(135.0)
    area = polygon + toes - np.pi * c**2 / 4.0
    assert_allclose(properties(part.blank()).area, area, rtol=ROUNDING)
    assert_allclose(part.facts()["blank, area"][0], area, rtol=ROUNDING)
    assert_allclose(part.facts()["blank, length along its x"][0], L, rtol=ROUNDING)
    assert_allclose(part.facts()["blank, height"][0], L, rtol=ROUNDING)
    assert_allclose(
        part.facts()["blank, mass"][0], area * part.thickness * part.metal.density, rtol=ROUNDING
    )


@pytest.mark.parametrize("name", [n for n in OPTIONS if "flared" not in n])
def test_a_flat_plate_has_the_volume_of_its_blank(name):
    part = option(name)
    area = properties(part.blank()).area
    assert_allclose(part.pieces[0].solid.val().Volume(), area * part.thickness, rtol=ROUNDING)


def test_the_middle_hole_touches_all_three_edges_less_the_web():
    part = gusset(holes={"type": "largest", "web": 8}, edge_break=0.0)
    form = part.flat()
    (hole,) = part.lightening()
    # Radius of the circle in the triangle of the two legs and the free edge: area over half the perimeter.
    edge = form.free_edges()[0]
    straight = edge.tangents[1] - edge.tangents[0]
    normal = np.array([straight[1], -straight[0]]) / np.linalg.norm(straight)
    reach = edge.tangents[0] @ normal
    b = np.array([np.cos(part.angle), np.sin(part.angle)])
    p, q = np.array([reach / normal[0], 0.0]), b * reach / (normal @ b)
    sides = [np.linalg.norm(p), np.linalg.norm(q), np.linalg.norm(p - q)]
    area = 0.5 * abs(p[0] * q[1] - p[1] * q[0])
    assert_allclose(hole.opening / 2.0 + 8.0, 2.0 * area / sum(sides), rtol=ROUNDING)


@pytest.mark.parametrize("name", ["two holes", "three holes", "across, waisted, two holes"])
def test_the_largest_holes_leave_the_web_and_no_more(name):
    part = option(name)
    form, web = part.flat(), part.holes.web
    holes = part.lightening()
    rooms = [float(form.clearance(h.centre) - h.outer / 2.0) for h in holes]
    gaps = [np.linalg.norm(a.centre - b.centre) - (a.outer + b.outer) / 2.0
            for i, a in enumerate(holes) for b in holes[:i]]  # fmt: skip
    assert min(rooms) > web - 1e-6 and min(gaps) > web - 1e-6
    assert min(rooms) < web + 1e-3 or min(gaps) < web + 1e-3


@pytest.mark.parametrize("count", [1, 2, 3])
def test_the_largest_holes_of_many_plates_are_those_of_each_alone(count):
    part = gusset(holes={"type": "largest", "web": 8, "count": count}, edge_break=0.0)
    # So many that roots are found by halving, and of one by many pieces.
    legs = np.linspace(70.0, 120.0, 150)
    together = with_values(part, {"plate.leg_a": legs}).lightening()
    for i in (0, 74, 149):
        alone = with_values(part, {"plate.leg_a": float(legs[i])})
        for one, many in zip(alone.lightening(), together, strict=True):
            assert_allclose(many.centre[i], one.centre, rtol=ROUNDING, atol=ROUNDING)
            assert_allclose(
                np.broadcast_to(many.opening, legs.shape)[i], one.opening, rtol=ROUNDING
            )


def test_a_placed_hole_lies_where_it_was_asked_for():
    part = option("placed, off the middle")
    (hole,) = part.lightening()
    origin = part.flat().frame.origin
    removed = tube_at(origin + np.array([50.0, 22.0, 0.0]), 19.9)
    assert part.pieces[0].solid.val().intersect(removed).Volume() == 0.0
    assert_allclose(hole.opening, 20.0)


def tube_at(place, diameter):
    return cq.Solid.makeCylinder(
        diameter / 2.0, 20.0, cq.Vector(place[0], place[1], -10.0), cq.Vector(0, 0, 1)
    )


# Checks redone by hand


def square(**changes):
    plate = {
        "type": "centre plane",
        "leg_a": 100,
        "leg_b": 100,
        "relief": {"type": "round", "size": 10},
    }
    return gusset(
        **{"angle": "90 deg", "plate": plate, "toe_radius": 6, "edge_break": 0.0, **changes}
    )


def test_the_weld_at_tube_a_by_hand():
    load = [{"name": "push", "forces": [{"at": "tube b", "force": [1000, -400, 0]}]}]
    part = square(loads=load, weld={"leg": 3})
    length = 100.0 - 6.0 - 10.0
    origin = part.flat().frame.origin
    at = part.points()["tube b"]
    assert_allclose(at, [0.0, origin[1] + 100.0, 0.0], atol=1e-9)
    middle = np.array([origin[0] + 10.0 + length / 2.0, origin[1]])
    # Two lines side by side in one plane view: J = 2 L³/12 about z (Blodgett, weld treated as a line).
    J = 2.0 * length**3 / 12.0
    turn = (at[0] - middle[0]) * -400.0 - (at[1] - middle[1]) * 1000.0
    along, across = 1000.0 / (2.0 * length), -400.0 / (2.0 * length)
    q = max(np.hypot(along, across + turn / J * end) for end in (-length / 2.0, length / 2.0))
    found = named(part, "weld a, throat, yield")
    assert_allclose(found.demand, q / (3.0 / np.sqrt(2.0)), rtol=ROUNDING)
    zone = part.metal.beside_weld(thickness_mm=1.473)
    assert_allclose(found.capacity, zone.yield_strength / np.sqrt(3.0), rtol=ROUNDING)
    beside = named(part, "weld a, beside, ultimate")
    thin = min(part.thickness / 2.0, part.tube_b.wall_mm, part.tube_a.wall_mm)
    shear = 0.6 * zone.ultimate_strength
    parts = (shear * 3.0 / np.sqrt(2.0), shear * 3.0, zone.ultimate_strength * thin / np.sqrt(3.0))
    assert_allclose(beside.demand, q, rtol=ROUNDING)
    assert_allclose(beside.capacity, min(parts), rtol=ROUNDING)
    # Directional method: along the weld, and square to the tube; both throat stresses from the latter.
    n = across + turn / J * (length / 2.0 if across * turn > 0 else -length / 2.0)
    second = np.sqrt(2.0 * n**2 + 3.0 * along**2) / (3.0 / np.sqrt(2.0))
    assert_allclose(named(part, "weld a, throat, second method").demand, second, rtol=ROUNDING)


def test_stopped_welds_lose_a_throat_at_each_end():
    whole, stopped = square(weld={"leg": 3}), square(weld={"leg": 3, "ends": "stopped"})
    name = "weld at tube a, each face"
    lost = whole.facts()[name][0] - stopped.facts()[name][0]
    assert_allclose(lost, 2.0 * 3.0 / np.sqrt(2.0), rtol=ROUNDING)


def test_the_net_section_through_a_hole_by_hand():
    load = [
        {
            "name": "pull",
            "forces": [{"at": "tube b", "force": [-2000, 0, 0], "moment": [0, 0, "30 N*m"]}],
        }
    ]
    part = square(
        loads=load, holes={"type": "placed", "web": 6, "places": [{"at": [36, 36], "diameter": 24}]}
    )
    t, origin = part.thickness, part.flat().frame.origin
    s = np.sqrt(0.5)
    # Along the bisector: relief at 10; the free edge is tangent to both toes.
    far = (94.0 + 6.0 + 6.0 * (1.0 / s)) * s
    centre = 36.0 / s
    low = np.array([10.0, centre + 12.0])
    high = np.array([centre - 12.0, far])
    A = t * np.sum(high - low)
    y = t * np.sum(high**2 - low**2) / 2.0 / A
    I_z = t * np.sum(high**3 - low**3) / 3.0 - A * y**2
    at = part.points()["tube b"] - origin - np.array([s * y, s * y, 0.0])
    moment = 3e4 - at[1] * -2000.0
    N, V = -2000.0 * -s, -2000.0 * s
    fibre = max(y - 10.0, far - y)
    expected = np.sqrt((abs(N) / A + abs(moment) * fibre / I_z) ** 2 + 3.0 * (V / A) ** 2)
    case = part.loads[0]
    from parts.features.plate_modes import nets

    (plate,) = part.plates
    found = nets(
        plate.cuts, plate.form, plate.holes, t, lambda cut, one: part._beyond(plate, cut, one), case
    )
    (through,) = [one for one in found if one.name == "throat through hole 1"]
    assert_allclose(through.stress, expected, rtol=ROUNDING)
    assert named(part, "net section, yield").demand >= expected * (1.0 - ROUNDING)


def test_buckling_of_the_free_edge_by_hand():
    part = square(loads=[{"name": "close", "forces": [{"at": "tube b", "force": [1500, 0, 0]}]}])
    found = named(part, "free edge, buckling")
    m, t = part.metal, part.thickness
    s = np.sqrt(0.5)
    width = (94.0 + 6.0 + 6.0 / s) * s - 10.0
    length = (94.0 - 6.0) / s
    k = 0.425 + (width / length) ** 2
    stress = k * np.pi**2 * m.E / (12.0 * (1.0 - m.poisson**2)) * (t / width) ** 2
    assert_allclose(found.capacity, min(stress, m.yield_strength), rtol=ROUNDING)
    assert found.demand > 0.0
    pulled = square(loads=[{"name": "open", "forces": [{"at": "tube b", "force": [-1500, 0, 0]}]}])
    assert named(pulled, "free edge, buckling").demand < found.demand


def test_the_tabs_load_is_carried_by_both_welds_and_every_cut_is_in_balance():
    part = option(
        "tab", loads=[{"name": "tab", "forces": [{"at": "tab", "force": [700, 300, 40]}]}]
    )
    from parts.features.plate_weld import Loaded

    (plate,), case = part.plates, part.loads[0]
    form, share = plate.form, plate.share
    a, b = plate.joints
    pulls = part._acting(share, case, "tab")
    both = [Loaded("a", a, [((a, b), pulls)]), Loaded("b", b, [((b, a), pulls)])]
    total = [sum(v) for v in zip(*(one.resultant(np.zeros(3)) for one in both), strict=True)]
    asked = resultant(pulls, np.zeros(3))
    assert_allclose(total[0], asked[0], rtol=ROUNDING)
    assert_allclose(total[1], asked[1], rtol=1e-8)
    for cut in form.cuts(()):
        beyond = resultant(part._beyond(plate, cut, case), np.zeros(3))
        on_b = both[1].resultant(np.zeros(3))
        on_a = both[0].resultant(np.zeros(3))
        # What crosses a cut is what tube A's weld takes where the tab lies beyond it, else what tube B's gives.
        carried = [
            v if cut.across(plate.foot.centre)[1] > 0 else -w
            for v, w in zip(on_a, on_b, strict=True)
        ]
        assert_allclose(beyond[0], carried[0], rtol=1e-8, atol=1e-9)
        assert_allclose(beyond[1], carried[1], rtol=1e-8, atol=1e-6)


def test_the_tab_as_a_lug_by_hand():
    part = option(
        "tab",
        angle="90 deg",
        loads=[{"name": "out", "forces": [{"at": "tab", "force": [800, 800, 0]}]}],
    )
    pull, t, m = 800.0 * np.sqrt(2.0), part.thickness, part.metal
    assert_allclose(named(part, "tab bearing, yield").demand, pull / (8.0 * t), rtol=ROUNDING)
    assert_allclose(named(part, "tab, block shear").capacity,
                    0.6 * min(m.ultimate_strength * 2 * (13.0 - 4.0), m.yield_strength * 2 * 13.0) * t,
                    rtol=ROUNDING)  # fmt: skip
    spread = 8.0 + 2.0 * 18.0 * np.tan(np.radians(30.0))
    assert_allclose(
        named(part, "plate behind the tab, yield").capacity,
        spread * t * m.yield_strength,
        rtol=ROUNDING,
    )
    assert_allclose(named(part, "tab root, yield").demand, pull / (26.0 * t), rtol=1e-6)
    assert_allclose(named(part, "tab pin, shear").demand, pull / (np.pi * 16.0), rtol=ROUNDING)


def test_a_load_beside_the_tab_bends_and_twists_it():
    more = {
        "angle": "90 deg",
        "loads": [{"name": "out", "forces": [{"at": "tab", "force": [800, 800, 0]}]}],
    }
    bare = option("tab", **more)
    tab = bare.tab.model_copy(update={"beside": 19.0})
    part = bare.model_copy(update={"tab": tab})
    assert not any("single shear" in one.name for one in bare.check().checks)
    pull, t, w = 800.0 * np.sqrt(2.0), float(part.thickness), float(tab.width)
    # Straight out of the edge: the pull times half of both thicknesses bends the tab, and nothing twists it.
    bent = 6.0 * pull * (t + 19.0) / 2.0 / (w * t**2)
    assert_allclose(named(part, "tab in single shear, yield").demand, bent, rtol=1e-6)
    along = option("tab", angle="90 deg", loads=[
        {"name": "out", "forces": [{"at": "tab", "force": [800, -800, 0]}]}
    ]).model_copy(update={"tab": tab})  # fmt: skip
    twisted = pull * (t + 19.0) / 2.0 * (3.0 + 1.8 * t / w) / (w * t**2)
    assert_allclose(
        named(along, "tab in single shear, ultimate").demand, np.sqrt(3.0) * twisted, rtol=1e-6
    )


def test_a_brace_pulled_along_itself_has_even_stress_and_even_welds():
    a, b = np.array([100.0, 0.0]), np.array([0.0, 100.0])
    pull = 3000.0 * (b - a) / np.linalg.norm(b - a)
    plate = {**ACROSS, "at_a": 100, "at_b": 100, "width_a": 60, "width_b": 60}
    part = gusset(plate=plate, angle="90 deg", tube_b="1-1/4 in x 0.065 in", edge_break=0.0,
                  loads=[{"name": "pull", "forces": [{"at": "tube b", "force": [*pull, 0.0]}]}])  # fmt: skip
    assert_allclose(
        named(part, "net section, yield").demand, 3000.0 / (60.0 * part.thickness), rtol=1e-6
    )
    # The saddle is symmetric about the pull, so that each mm of both fillets takes the same force, but for
    # the small moment of the weld's centroid off the line of pull across the thickness, of which there is none.
    length = part.facts()["weld at tube a, each face"][0]
    q = named(part, "weld a, beside, yield").demand
    assert_allclose(
        q, 3000.0 / (2.0 * length), rtol=1e-3
    )  # polygons of the ellipse: 1e-4 of its length


def test_strength_beside_the_weld_is_that_of_the_weaker_metal_and_filler():
    own = named(gusset(), "weld a, throat, yield").capacity
    weak = named(gusset(tube_material="1020 hot rolled"), "weld a, throat, yield").capacity
    assert_allclose(weak, 205.0 / np.sqrt(3.0), rtol=1e-6)
    assert weak < own


# Rules and messages


@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"angle": "15 deg"}, "angle", "no corner for a plate"),
        ({"angle": "170 deg"}, "angle", "need no gusset"),
        ({"thickness": 0.5}, "thickness", "wrong unit"),
        ({"thickness": 4.0}, "thickness", "twice the"),
        ({"gap": 1.1}, "gap", "falls through"),
        ({"toe_radius": 2}, "toe_radius", "starts a crack"),
        ({"toe_radius": 45}, "toe_radius", "wrong unit"),
        ({"edge_break": 0.7}, "edge_break", "a quarter of the thickness"),
        ({"plate": {**WIDE, "leg_a": 25}}, "plate.leg_a", "too little straight edge"),
        ({"plate": {**WIDE, "leg_b": "110 in"}}, "plate.leg_b", "wrong unit"),
        ({"plate": {**WIDE, "relief": {"type": "round", "size": 3}}}, "plate.relief.size",
        "weld between the tubes"),
        ({"free_edge": {"type": "waisted", "depth": 45}}, "free_edge", "hollowed or bowed"),
        ({"plate": {**WIDE, "leg_a": 45, "leg_b": 390}, "angle": "20 deg", "free_edge": {"type": "curved",
          "rise": 10}}, "free_edge", "square to its own leg"),
        ({"plate": {**WIDE, "leg_a": 45, "leg_b": 390}, "angle": "20 deg", "free_edge": {"type": "curved",
          "rise": 40}}, "free_edge", "square to its own leg"),
        ({"plate": {**WIDE, "leg_a": 390, "leg_b": 390}, "angle": "150 deg", "toe_radius": 3.5, "free_edge": {
          "type": "waisted", "depth": 60}}, "free_edge", "feather"),
        ({"angle": "155 deg", "plate": {**WIDE, "leg_a": 42, "leg_b": 42}}, "plate",
        "between the inner corner"),
        ({"weld": {"leg": 0.5}}, "weld.leg", "smaller than the parts ask"),
        ({"weld": {"leg": 6}}, "weld.leg", "burns through"),
        ({"arrangement": {"type": "single", "offset": 9}}, "arrangement", "nearer to the plane"),
        ({"arrangement": {"type": "pair astride", "spacing": 5}}, "arrangement.spacing", "inner welds"),
        ({"arrangement": {"type": "left and right", "spacing": 20}}, "arrangement.spacing", "pair astride"),
        ({"arrangement": {"type": "left and right", "spacing": "110 in"}}, "arrangement.spacing", "wrong unit"),
        ({"holes": {"type": "largest", "web": 2}}, "holes.web", "twice the thickness"),
        ({"holes": {"type": "largest", "web": 25, "count": 3}}, "holes", "too small to lighten"),
        ({"holes": {"type": "placed", "web": 6, "places": [{"at": [50, 12], "diameter": 20}]}}, "holes",
        "near an edge"),
        ({"holes": {"type": "placed", "web": 6, "places": [{"at": [50, 22], "diameter": 16}, {"at": [68, 24],
          "diameter": 16}]}}, "holes", "near each other"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "bend_radius": 4}}}, "holes.rim.bend_radius",
        "cracks"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "angle": "10 deg"}}}, "holes.rim.angle",
        "flat"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "angle": "88 deg"}}}, "holes.rim.angle",
        "die"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "height": 1.5}}}, "holes.rim.height",
        "no cone"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "height": "3 in"}}}, "holes.rim.height",
        "wrong unit"),
        ({"plate": LONG, "holes": {"type": "placed", "web": 6, "places": [{"at": [80, 40], "diameter": 10}],
          "rim": FLARE}}, "holes.rim", "splits"),
        ({"plate": LONG, "holes": {"type": "placed", "web": 6, "places": [{"at": [80, 40], "diameter": 6.2}],
          "rim": {**FLARE, "height": 12}}}, "holes.rim", "next to no hole"),
        ({"material": "Ti-6Al-4V annealed", "plate": LONG, "holes": {"type": "largest", "web": 8,
        "rim": FLARE}},
         "holes.rim.bend_radius", "softer sheet"),
        ({"plate": WIDE, "tab": {**TAB, "width": 20}}, "tab.width", "tear out of the tab"),
        ({"plate": WIDE, "tab": {**TAB, "along": 0.05}}, "tab.along", "between the toes"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 8}}, "tab.reach", "past the hole"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 150}}, "tab.reach", "wrong unit"),
        ({"plate": WIDE, "tab": {**TAB, "width": 60, "pin": {**PIN, "diameter": 18}}}, "tab", "wallows"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 9, "root_radius": 2}, "holes": {"type": "placed", "web": 5,
          "places": [{"at": [76, 45.7], "diameter": 26}]}}, "holes", "tab's pin"),
        ({"angle": "90 deg", "plate": {**ACROSS, "wrap": "80 deg"}}, "plate.wrap", "little to weld"),
        ({"angle": "90 deg", "plate": {**ACROSS, "wrap": "190 deg"}}, "plate.wrap", "half way"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 160}}, "plate.at_a", "feather"),
        ({"angle": "90 deg", "plate": {**ACROSS, "width_a": 40}}, "plate.width_a", "horns"),
        ({"angle": "90 deg", "plate": {**ACROSS, "width_a": 300}}, "plate.width_a", "wrong unit"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 900, "at_b": 900}}, "plate.at_a", "wrong unit"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 28, "at_b": 28}}, "plate", "between the two notches"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 110, "at_b": 110}, "free_edge": {"type": "waisted",
          "depth": 19}}, "free_edge", "waist leaves too little"),
        ({"angle": "90 deg", "plate": ACROSS, "free_edge": {"type": "curved", "rise": 40}}, "free_edge",
        "bowed"),
        ({"angle": "90 deg", "plate": ACROSS, "arrangement": {"type": "single", "offset": 3}}, "arrangement",
        "middle"),
    ],
)  # fmt: skip
def test_each_rule_says_what_is_wrong(changes, field, says):
    said = broken(**changes)
    assert f"{field}:" in said
    assert says in said


def test_a_pair_astride_across_is_refused():
    said = broken(plate=ACROSS, angle="90 deg", arrangement={"type": "pair astride", "spacing": 20})
    assert "left and right" in said


def test_metal_that_nothing_may_be_counted_on_beside_a_weld_is_refused():
    assert "none may be counted on" in broken(material="7075-T6", form=None)
    assert "no such filler here" in broken(weld={"leg": 2.5, "filler": "ER4043"})


YAML = """
family: gusset plate
name: HC-190
material: 4130 normalized
tube_a: 1-1/4 in x 0.065 in
tube_b: 1 in x 0.058 in
angle: 62 deg
thickness: 0.090 in
plate: {type: centre plane, leg_a: 110 mm, leg_b: 95 mm}
weld: {leg: 2.5 mm}
"""


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("0.090 in", "0.090", "thickness"),
        ("62 deg", "62 mm", "angle"),
        ("centre plane", "center plane", "centre plane"),
        ("1 in x 0.058 in", "1 in", "tube_b"),
        ("leg_b", "leg_c", "leg_b"),
        ("leg_a: 110 mm", "leg_a: 20 mm", "too little straight edge"),
        ("4130 normalized", "4131", "4130"),
    ],
)
def test_messages_name_the_line_and_what_would_be_right(old, new, says):
    known = {"gusset plate": Gusset}
    assert read_text(YAML, known).thickness == pytest.approx(2.286)
    with pytest.raises(InputError) as caught:
        read_text(YAML.replace(old, new), known)
    assert says in str(caught.value)


def test_every_option_stands_in_the_schema_with_a_description():
    schema = file_schema(Gusset)
    text = json.dumps(schema)
    for word in (
        "centre plane",
        "across",
        "waisted",
        "curved",
        "flared",
        "pair astride",
        "left and right",
        "returned",
    ):
        assert f'"{word}"' in text
    groups = [schema, *schema["$defs"].values()]
    for group in groups:
        for name, field in group.get("properties", {}).items():
            assert field.get("description") or "$ref" in field or name == "units", name


def test_the_example_and_the_demo_parts_hold():
    assert Gusset.model_validate(Gusset.example).check().ok
    for file in DEMOS:
        result = load(file).check()
        assert result.ok
        assert 1.0 < float(result.governing.factor) / float(result.governing.required) < 5.0


# Variants


SWEEPS = [
    ("three holes", "thickness", [2.0, 2.3]), ("three holes", "angle", [1.0, 1.2]), ("two holes", "plate.leg_a",
    [115.0, 120.0]),
    ("two holes", "free_edge.depth", [10.0, 8.0]), ("left and right, flared", "holes.rim.angle", [0.7, 0.8]),
    ("pair astride, flared", "arrangement.spacing", [12.0, 13.0]), ("tab on a curve", "angle", [1.5, 1.7]),
    ("tab on a curve", "tab.along", [0.5, 0.6]), ("across, curved, tab", "plate.wrap", [2.4, 2.6]),
    ("across, curved, tab", "plate.at_a", [115.0, 120.0]), ("across, waisted, two holes", "gap", [0.1, 0.3]),
]  # fmt: skip


@pytest.mark.parametrize(("name", "path", "values"), SWEEPS)
def test_rules_and_checks_of_many_variants_equal_those_of_each(name, path, values):
    part = option(name)
    wide = with_values(part, {path: np.array(values)})
    rules, checks = list(wide.rules()), list(wide.modes(part.loads[0]))
    n = len(values)

    def pick(value, i):
        return np.broadcast_to(np.asarray(value, float), n)[i]

    for i, value in enumerate(values):
        one = with_values(part, {path: value})
        for a, b in zip(one.rules(), rules, strict=True):
            assert_allclose(
                [pick(b.value, i), pick(b.limit, i)], [a.value, a.limit], rtol=1e-8, atol=1e-9
            )
        for a, b in zip(one.modes(part.loads[0]), checks, strict=True):
            assert a.name == b.name
            assert_allclose(pick(b.demand, i), a.demand, rtol=1e-8, atol=1e-9)
            assert_allclose(pick(b.capacity, i), a.capacity, rtol=1e-8)


@pytest.mark.parametrize(
    ("name", "path", "values"),
    [("three holes", "thickness", [2.0, 2.3]), ("tab on a curve", "angle", [1.5, 1.7]),
     ("across, curved, tab", "plate.at_a", [115.0, 120.0])],
)  # fmt: skip
def test_load_paths_of_many_variants_equal_those_of_each(name, path, values):
    part = option(name)
    wide = with_values(part, {path: np.array(values)})

    def stress(span):
        outline = span.outline(np.asarray(0.4))
        forces = carried(span, part.loads, 0.4, properties(outline))
        return np.asarray(stress_bound(outline, forces).von_mises)

    for i, value in enumerate(values):
        own = {span.name: span for span in with_values(part, {path: value}).spans()}
        for span in wide.spans():
            many = np.broadcast_to(stress(span), (1, len(values)))
            assert_allclose(many[:, i], stress(own[span.name]), rtol=1e-8)


def test_the_tabs_pin_and_bush_are_bought():
    assert not gusset().bought()
    (pin,) = option("tab").bought()
    assert "8 mm" in pin.designation
    _, bush = option("tab on a waist, bushed").bought()
    assert "8 x 12 mm" in bush.designation and "H7/p6" in bush.fits


def shares(low, high):
    return st.floats(low, high)


@st.composite
def parts(draw):
    """A gusset of any sizes, many of them at the limits of its rules."""
    t = draw(st.floats(0.9, 2.9))
    toe = max(1.5 * t, 3.0) * draw(shares(1.0, 2.5))
    leg = min(t, 1.473) * draw(shares(0.8, 3.0))
    reach = 2.0 * toe + 25.0
    long = st.floats(reach, 3.0 * reach)
    changes = {
        "angle": f"{draw(st.floats(25.0, 150.0))} deg",
        "thickness": t,
        "toe_radius": toe,
        "edge_break": t * draw(st.sampled_from([0.0, 0.1, 0.25])),
        "gap": draw(st.floats(0.0, 0.4)),
        "weld": {"leg": leg},
        "loads": [],
    }
    size = reach * draw(shares(0.01, 0.3))
    shapes = [
        {"type": "straight"},
        {"type": "waisted", "depth": size},
        {"type": "curved", "rise": size},
    ]
    changes["free_edge"] = draw(st.sampled_from(shapes))
    if draw(st.booleans()):
        relief = {
            "type": draw(st.sampled_from(["round", "chamfer"])),
            "size": max(2.0 * leg, 5.0) * draw(shares(1.0, 1.5)),
        }
        changes["plate"] = {
            "type": "centre plane",
            "leg_a": draw(long),
            "leg_b": draw(long),
            "relief": relief,
        }
    else:
        widths, far = (
            st.floats(33.0 + 2.0 * (toe + leg), 75.0 + 2.0 * leg),
            45.0 + reach * draw(shares(0.0, 2.0)),
        )
        changes["plate"] = {
            "type": "across", "at_a": far, "at_b": far * draw(shares(0.8, 1.25)), "width_a": draw(widths),
            "width_b": draw(widths), "wrap": f"{draw(st.floats(90.0, 180.0))} deg",
        }  # fmt: skip
    extra = draw(st.sampled_from(["none", "holes", "flared", "tab"]))
    if extra in ("holes", "flared"):
        changes["holes"] = {
            "type": "largest",
            "web": 2.0 * t + 1.0,
            "count": draw(st.integers(1, 3)),
        }
    if extra == "flared":
        changes["holes"]["rim"] = {
            "type": "flared",
            "height": 1.2 * t,
            "bend_radius": 3.0 * t,
            "angle": "45 deg",
        }
        changes["plate"] |= (
            {"leg_a": 150, "leg_b": 140}
            if "leg_a" in changes["plate"]
            else {"at_a": 130, "at_b": 120}
        )
    if extra == "tab":
        changes["tab"] = {
            **TAB,
            "along": draw(st.floats(0.3, 0.7)),
            "reach": draw(st.floats(14.0, 30.0)),
        }
    return changes


def holds(changes):
    try:
        part = gusset(**changes)
    except ValidationError:
        reject()
    for piece in part.pieces:
        (solid,) = piece.solid.solids().vals()
        assert solid.isValid() and solid.Volume() > 0.0
    assert worst(part) < (SOFTENED if part.softened else SHARP)


@settings(
    max_examples=10,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],
    suppress_health_check=MANY,
)
@given(parts())
def test_whatever_the_rules_let_pass_is_one_sound_solid(changes):
    holds(changes)


def test_a_section_beside_a_hole_keeps_clear_of_its_broken_edge():
    """A section that misses two holes by 0.4 mm would graze their chamfers of 0.64 mm."""
    part = gusset(
        angle="125 deg",
        thickness=2.554,
        toe_radius=3.831,
        edge_break=0.6385,
        gap=0.0719,
        weld={"leg": 1.62},
        loads=[],
        free_edge={"type": "curved", "rise": 0.3266},
        plate={
            "type": "centre plane",
            "leg_a": 60.81,
            "leg_b": 51.0,
            "relief": {"type": "round", "size": 5.352},
        },
        holes={"type": "largest", "web": 6.108, "count": 2},
    )
    assert worst(part) < SOFTENED


@pytest.mark.slow
@settings(max_examples=250, deadline=None, suppress_health_check=MANY)
@given(parts())
def test_whatever_the_rules_let_pass_is_one_sound_solid_at_length(changes):
    holds(changes)


def test_loads_must_act_at_points_of_the_part():
    assert "its points are tube b" in broken(
        loads=[{"name": "x", "forces": [{"at": "tab", "force": [1, 0, 0]}]}]
    )
    assert set(option("tab").points()) == {"tube b", "tab"}
    assert SIDE[0]["forces"][0]["at"] == "tube b"
