"""Checks of a gusset redone by hand."""

import numpy as np
from gussets import (
    ACROSS,
    gusset,
    named,
    option,
)
from numpy.testing import assert_allclose

from parts.core.loads import resultant

ROUNDING = 1e-9


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
    from parts.families.gusset.strength import net

    (plate,) = part.plates
    found = [net(one, plate.beyond(one.cut, case), part.metal) for one in plate.net_sections]
    (through,) = [one for one in found if one.name == "throat through hole 1"]
    assert_allclose(through.stress, expected, rtol=ROUNDING)
    assert named(part, "net section, yield").demand >= expected * (1.0 - ROUNDING)


def test_buckling_of_the_free_edge_by_hand():
    part = square(loads=[{"name": "close", "forces": [{"at": "tube b", "force": [1500, 0, 0]}]}])
    found = named(part, "free edge, buckling")
    m, t = part.metal, part.thickness
    # Legs of 100 mm at a right angle: free side 100·√2, height 100/√2; 0.45/h² + 0.50/H² = 0.45/20000 + 0.50/5000.
    plate = np.pi**2 * m.E * t**2 / (12.0 * (1.0 - m.poisson**2))
    stress = plate * (0.45 / 20000.0 + 0.50 / 5000.0)
    F = m.beside_weld(thickness_mm=t).yield_strength
    assert_allclose(
        found.capacity, stress if stress <= F / 2 else F * (1 - F / 4 / stress), rtol=1e-6
    )
    # 1500 N along tube A over its weld of 84 mm.
    sheared = named(part, "panel, shear buckling")
    assert_allclose(sheared.demand, 1500.0 / (84.0 * t), rtol=1e-6)
    assert found.demand > 0.0
    pulled = square(loads=[{"name": "open", "forces": [{"at": "tube b", "force": [-1500, 0, 0]}]}])
    assert named(pulled, "free edge, buckling").demand < found.demand


def test_the_tabs_load_is_carried_by_both_welds_and_every_cut_is_in_balance():
    part = option(
        "tab", loads=[{"name": "tab", "forces": [{"at": "tab", "force": [700, 300, 40]}]}]
    )
    from parts.features.weld.plate_edge import Loaded

    (plate,), case = part.plates, part.loads[0]
    form = plate.form
    a, b = plate.joints
    pulls = plate.entering(case).pulls
    both = [Loaded("a", a, [((a, b), pulls)]), Loaded("b", b, [((b, a), pulls)])]
    total = [sum(v) for v in zip(*(one.resultant(np.zeros(3)) for one in both), strict=True)]
    asked = resultant(pulls, np.zeros(3))
    assert_allclose(total[0], asked[0], rtol=ROUNDING)
    assert_allclose(total[1], asked[1], rtol=1e-8)
    for cut in form.cuts(()):
        beyond = resultant(plate.beyond(cut, case), np.zeros(3))
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


def test_a_load_beside_the_tab_bends_plate_and_welds_too():
    """800 N out of the edge, half of both thicknesses off the plate's middle: the same moment may be stated instead."""
    pull = np.array([800.0, 800.0, 0.0])

    def under(moment=(0, 0, 0), beside=None):
        one = {"at": "tab", "force": [*pull], "moment": [f"{v} N*mm" for v in moment]}
        bare = option("tab", angle="90 deg", loads=[{"name": "out", "forces": [one]}])
        return bare.model_copy(update={"tab": bare.tab.model_copy(update={"beside": beside})})

    astride, beside = under(), under(beside=19.0)
    off = (astride.thickness + 19.0) / 2.0 * astride.flat().frame.normal
    told = under(np.cross(off, pull))
    for name in ("weld a, beside, yield", "weld a, tube wall", "net section, yield"):
        assert_allclose(named(beside, name).demand, named(told, name).demand, rtol=1e-6)
        assert named(beside, name).demand > named(astride, name).demand
