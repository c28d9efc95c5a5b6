"""The adjustable link: its checks against hand calculations."""

import numpy as np
import pytest
from links import BUNG, CLEVIS, LINKS, NECKED, RIGHT, SHORT_RANGE, case_of, checks, link

from parts.core.search.look import scan

INCH = 25.4
PITCH = INCH / 24.0
MAJOR = 0.375 * INCH
PULL = ("end b", (4000.0, 0.0, 0.0))
PUSH = ("end b", (-4000.0, 0.0, 0.0))


# ---- strength -----------------------------------------------------------------------------------


def test_the_reaction_stands_at_the_other_end():
    by_b, by_a = checks(link(), PULL), checks(link(), ("end a", (-4000.0, 0.0, 0.0)))
    balanced = checks(link(), PULL, ("end a", (-4000.0, 0.0, 0.0)))
    for name in by_b:
        assert by_a[name].demand == pytest.approx(by_b[name].demand)
        assert balanced[name].demand == pytest.approx(by_b[name].demand)


def test_a_force_across_an_end_goes_straight_into_its_pin():
    assert checks(link(), PULL, ("end a", (0.0, 900.0, 0.0)))[
        "end a shank"
    ].demand == pytest.approx(checks(link(), PULL)["end a shank"].demand)


def test_tube_stress_is_force_over_area():
    part = link(eccentricity="0 mm")
    area = np.pi / 4.0 * ((7 / 8 * INCH) ** 2 - ((7 / 8 - 0.130) * INCH) ** 2)
    case = case_of(PULL)
    tubes = [span for span in part.spans() if span.name == "tube"]
    assert np.allclose(scan(tubes[0], [case]).stress, 4000.0 / area, rtol=1e-6)


def test_euler_load_of_the_tube_between_slender_shanks():
    """Bounds by hand: below Euler's load of the tube alone, above that of the shank's bar alone."""
    part = link()
    found = checks(part, PUSH)["buckling, shanks and body"]
    E = part.metal.E
    outside, inside = 7 / 8 * INCH, (7 / 8 - 0.130) * INCH
    tube_I = np.pi / 64.0 * (outside**4 - inside**4)
    euler = np.pi**2 * E * tube_I / 328.0**2
    assert 0.3 * euler < found.capacity < euler
    assert found.demand == pytest.approx(4000.0)
    # As stiff as the tube throughout, it is Euler's column: shanks without length.
    from parts.strength.columns.column import stepped_load

    assert stepped_load(E * tube_I, 30.0, E * tube_I, 268.0, E * tube_I, 30.0) == pytest.approx(
        euler, rel=1e-6
    )


def test_shanks_bound_the_buckling_load_by_timoshenkos_transcendental():
    """tan(k1 l1) tan(k2 l2/2) = k1/k2 for alike ends: Timoshenko & Gere, section 2.14."""
    part = link()
    P = float(checks(part, PUSH)["buckling, shanks and body"].capacity)
    d3 = MAJOR - 1.190785 * PITCH
    EI_1 = 29e6 * 6.894757e-3 * np.pi / 64.0 * d3**4  # E of steel 29e6 psi
    step = checks(part, PUSH)["buckling, shanks and body"].steps[-1].inputs
    assert step["EI_1"] == pytest.approx(EI_1, rel=1e-5)
    k1, k2 = np.sqrt(P / step["EI_1"]), np.sqrt(P / step["EI_2"])
    l1, l2 = 1.938 * INCH - part.link.entry(0, 328.0), part.link.body
    assert np.tan(k1 * l1) * np.tan(k2 * l2 / 2.0) == pytest.approx(k1 / k2, rel=1e-6)


def test_side_load_at_the_middle_bends_the_tube_by_a_quarter_of_force_times_length():
    part = link()
    found = checks(part, ("middle", (0.0, 300.0, 400.0)))["side load on the column"]
    outside, inside = 7 / 8 * INCH, (7 / 8 - 0.130) * INCH
    W = np.pi / 32.0 * (outside**4 - inside**4) / outside
    assert found.demand == pytest.approx(500.0 * 328.0 / 4.0 / W, rel=1e-9)
    pushed = checks(part, PUSH, ("middle", (0.0, 300.0, 400.0)))["side load on the column"]
    area = np.pi / 4.0 * (outside**2 - inside**2)
    assert pushed.demand > found.demand + 4000.0 / area  # a push amplifies what a side load bends


def test_half_a_side_load_bends_each_shank():
    part = link()
    found = checks(part, ("middle", (0.0, 300.0, 0.0)))["end a shank"]
    d3 = part.end_a.thread.minor_external
    bare = 1.938 * INCH - part.link.entry(0, 328.0)  # to the body's face: the jam nut may be loose
    assert found.demand == pytest.approx(150.0 * bare / (np.pi / 32.0 * d3**3), rel=1e-9)


def test_a_push_off_the_axis_adds_to_a_side_load(bent_by_differences):
    """At the middle P e, grown as the factor required times the load grows it, on top of the side load's own; at the
    shank the push adds what the bow bears."""
    near, off = (link(eccentricity=f"{e} mm") for e in (0, 3))
    loads = PUSH, ("middle", (0.0, 300.0, 0.0))
    straight, bent = checks(near, *loads), checks(off, *loads)
    step = bent["buckling, shanks and body"].steps[-1].inputs
    stiff, long = ([step[f"{of}_{k}"] for k in (1, 2, 3)] for of in ("EI", "L"))
    W = near.column.body.I / near.column.body.c
    for name, n in (("side load on the column", 1.5), ("tube wall wrinkling", 2.25)):
        more = bent_by_differences(stiff, long, 0.0, n * 4000.0, 3.0, 164.0) / n / W
        assert bent[name].demand - straight[name].demand == pytest.approx(more, rel=1e-3)
    # Without any push the same side load bends shank and weld less by more than the push's own stress.
    d3, free = near.end_a.thread.minor_external, near.link.bare(0, 328.0)
    shank = 4000.0 / (np.pi / 4.0 * d3**2) + 150.0 * free / (np.pi / 32.0 * d3**3)
    assert straight["end a shank"].demand > 1.02 * shank


def test_shaking_adds_the_links_own_weight():
    still, shaken = link(), link(shaken=10)
    assert "side load on the column" not in checks(still, PULL)
    found = checks(shaken, PULL)["side load on the column"]
    area = still.column.body.area
    q = 10 * 9.80665 * still.metal.density * area
    assert found.demand == pytest.approx(
        q * 328.0**2 / 8.0 / (still.column.body.I / still.column.body.c), rel=1e-6
    )


def test_the_weld_bears_the_pull_on_its_throat_and_with_welded_strength():
    part = link(eccentricity="0 mm")
    found = checks(part, PULL)
    outside, throat = 7 / 8 * INCH, 0.75 * 0.065 * INCH
    area = np.pi / 4.0 * (outside**2 - (outside - 2.0 * throat) ** 2)
    one = found["end a, beside the weld, yield"]
    assert one.demand == pytest.approx(4000.0 / area, rel=1e-9)
    assert one.capacity == pytest.approx(52.0 * 6.894757, rel=1e-6)  # annealed 4130, 52 ksi


def test_a_fillet_weld_is_checked_as_a_line():
    part = link(eccentricity="0 mm", **LINKS["large hex, witness hole in it, fillet weld"])
    one = checks(part, PULL)["end b, fillet, ultimate"]
    assert one.demand == pytest.approx(4000.0 / (np.pi * 7 / 8 * INCH), rel=1e-9)


def test_a_maker_s_rating_goes_before_the_generic_head():
    part = link(end_a={**RIGHT, "rating": "30 kN"})
    found = checks(part, PULL)
    assert found["end a head, maker's rating"].capacity == pytest.approx(30e3)
    assert "end a head" not in found and "end b head" in found


def test_a_tight_jam_nut_leaves_less_for_the_pull():
    loose, tight = (link(end_a={**RIGHT, "jam_nut": {"torque": t}}) for t in ("10 N*m", "14 N*m"))
    name = "end a shank beside its jam nut"
    assert checks(tight, PULL)[name].capacity < checks(loose, PULL)[name].capacity
    bite = checks(tight, PULL)["end a jam nut, bite"]
    # Friction 0.20 and a wrench 10 % short, a fifth lost as it settles; the nut's face from the countersink of the
    # body, 0.4 mm wider than the thread all round, to 0.95 of 9/16 in.
    d2, face = MAJOR - 0.6495191 * PITCH, 0.25 * (MAJOR + 0.8 + 0.95 * 9 / 16 * INCH)
    rub, lead = 0.2 / np.cos(np.radians(30)), PITCH / (np.pi * d2)
    arm = d2 / 2.0 * (rub + lead) / (1.0 - rub * lead) + 0.2 * face
    assert bite.capacity == pytest.approx(0.8 * 0.9 * 14e3 / arm, rel=1e-3)
    assert bite.demand == pytest.approx(4000.0)


def test_a_couple_on_a_clevis_bends_the_link_between_two_pins():
    part = link(end_a=CLEVIS, end_b=NECKED, pin_to_pin=SHORT_RANGE)
    case = case_of(("end a", (0.0, 0.0, 0.0), (0.0, 16000.0, 0.0)))
    load = part.borne(case)
    # 16 N*m over 320 mm: 50 N across each pin, opposite.
    assert load.b.force[2] == pytest.approx(50.0)
    assert load.a.force[2] == pytest.approx(-50.0)
    twist = part.borne(case_of(("end a", (0.0, 0.0, 0.0), (9000.0, 0.0, 0.0))))
    assert twist.b.moment[0] == pytest.approx(-9000.0)


def test_forces_on_a_side_loaded_link_balance():
    load = link().borne(case_of(("middle", (100.0, 30.0, -70.0)), PULL))
    everything = [load.a, load.b, load.middle]
    assert np.allclose(sum(np.asarray(one.force) for one in everything), 0.0, atol=1e-9)
    moments = sum(np.cross(one.at, one.force) + np.asarray(one.moment) for one in everything)
    assert np.allclose(moments, 0.0, atol=1e-6)


SIDE = ("middle", (0.0, 300.0, 400.0))
SOFT = "end {}, tube softened by the weld, yield"


def test_a_push_bends_the_softened_tube_by_what_the_deflected_link_bears(bent_by_differences):
    """The whole link as a beam-column on a fine grid under 2.25 times its loads, read 25 mm behind each weld; the tube
    there is annealed."""
    part = link(eccentricity="0 mm", body__bung_b={**BUNG, "shoulder": "34 mm"})
    found = checks(part, PUSH, SIDE)
    step = found["buckling, shanks and body"].steps[-1].inputs
    stiff, long = ([step[f"{of}_{k}"] for k in (1, 2, 3)] for of in ("EI", "L"))
    outside, inside = 7 / 8 * INCH, (7 / 8 - 0.130) * INCH
    A = np.pi / 4.0 * (outside**2 - inside**2)
    W = np.pi / 32.0 * (outside**4 - inside**4) / outside
    for name, x, at in (
        ("a", long[0] + 26.0 + 1.0 + 25.0, 1),
        ("b", long[2] + 34.0 + 1.0 + 25.0, -1),
    ):
        M = bent_by_differences(stiff[::at], long[::at], 2.25 * 500.0, 2.25 * 4000.0, 0.0, x) / 2.25
        tension = 4000.0 / A + M / W
        expected = np.sqrt(tension**2 + 3.0 * (2.0 * 250.0 / A) ** 2)
        one = found[SOFT.format(name)]
        assert one.demand == pytest.approx(expected, rel=1e-3)
        assert one.capacity == pytest.approx(52.0 * 6.894757, rel=1e-6)  # annealed 4130, 52 ksi
    off = part.changed({"eccentricity": "2 mm"})
    M = bent_by_differences(stiff, long, 2.25 * 500.0, 2.25 * 4000.0, 2.0, long[0] + 52.0) / 2.25
    assert checks(off, PUSH, SIDE)[SOFT.format("a")].demand == pytest.approx(
        np.hypot(4000.0 / A + M / W, np.sqrt(3.0) * 500.0 / A), rel=1e-3
    )


def test_a_vent_hole_in_the_softened_tube_takes_its_share():
    vented = link(body__vent_hole="2 mm")  # 19 mm behind the weld of end a
    near, far = (vented.body.softened(i, vented.link)[1] for i in (0, 1))
    wall, r = 0.065 * INCH, 7 / 16 * INCH
    # A hole of 2 mm through one wall.
    assert far[0] - near[0] == pytest.approx(2.0 * wall, rel=0.02)
    assert near[1] < far[1] * (1.0 - 0.5 * 2.0 * wall * (r - wall / 2.0) ** 2 / (far[1] * r))


def test_the_path_bears_what_bends_the_link_beside_its_forces():
    """A push of 4 kN off its axis by 3 mm bends the tube's middle by P e, grown by the bow: Timoshenko & Gere's
    secant for a column of one section bounds it from below, its stepped one is longer."""
    part = link(eccentricity="3 mm", loads=[case_of(PUSH).model_dump()])
    worst = part.check().criticals[0]
    A, W = part.column.body.middle
    E, inertia = part.metal.E, part.column.body.I
    secant = 1.0 / np.cos(np.pi / 2.0 * np.sqrt(4000.0 / (np.pi**2 * E * inertia / 328.0**2)))
    assert worst.stress.von_mises > 4000.0 / A + 4000.0 * 3.0 * secant / W
