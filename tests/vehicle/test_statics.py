"""Bodies on a hinge and a link, against statics written out."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.vehicle.build import Build
from parts.vehicle.loads.statics import (
    FRAME,
    NONE,
    Body,
    Held,
    Link,
    OnLinks,
    Post,
    Spring,
    StaticsError,
    solve,
    solve_on_links,
)
from tests.vehicle.builds import BUILD, refused, write

POINTS = {
    "hinge": np.array([0.0, 0.0, 0.0]),
    "pad": np.array([150.0, 0.0, 0.0]),
    "eye": np.array([0.0, 0.0, 40.0]),
    "post": np.array([-200.0, 0.0, 40.0]),
}
PEDAL = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye"))
TOLERANCE = 1e-9  # rounding


def on(found, body, point, by=None):
    (one,) = [h for h in found.held if h.body == body and h.point == point and by in (None, h.by)
              and not h.mirrored]  # fmt: skip
    return one.force


def on_pad(force):
    return [Held("pedal", "pad", force, NONE, "foot")]


def test_a_pedal_multiplies_by_its_levers():
    found = solve(PEDAL, on_pad(np.array([0.0, 0.0, -600.0])), POINTS)
    pull = 600.0 * 150.0 / 40.0
    assert on(found, "pedal", "eye") == pytest.approx([-pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, "rod", "eye") == pytest.approx([pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, FRAME, "post") == pytest.approx([pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, "pedal", "hinge") == pytest.approx([pull, 0.0, 600.0], rel=TOLERANCE)
    assert [b.error for b in found.balances] == ["", ""]


def test_a_pair_of_struts_shares_the_load():
    one = solve(PEDAL, on_pad(np.array([0.0, 0.0, -600.0])), POINTS)
    aside = {**POINTS, "eye": POINTS["eye"] + [0, 90.0, 0], "post": POINTS["post"] + [0, 90.0, 0]}
    body = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye", sides=2))
    two = solve(body, on_pad(np.array([0.0, 0.0, -600.0])), aside)
    assert on(two, "rod", "eye") == pytest.approx(on(one, "rod", "eye") / 2.0, rel=TOLERANCE)
    assert [b.error for b in two.balances] == ["", ""]


coordinates = st.tuples(*[st.floats(-400.0, 400.0)] * 3).map(np.array)
forces = st.tuples(*[st.floats(-5e3, 5e3)] * 3).map(np.array)


@given(coordinates, coordinates, coordinates, coordinates, forces, st.sampled_from([1, 2]))
def test_whatever_is_solved_balances_and_hands_the_load_to_the_frame(
    hinge, pad, eye, post, force, sides
):
    assume(np.linalg.norm(force) > 1.0)
    points = {"hinge": hinge * [1, 0, 1], "pad": pad, "eye": eye, "post": post}
    body = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye", sides))
    try:
        found = solve(body, on_pad(force), points)
    except StaticsError:
        return
    assert all(b.ok for b in found.balances), [b.error for b in found.balances]
    struts = [h.force for h in found.held if h.body == FRAME and h.point == "post"]
    assert len(struts) == sides
    (hinge_force,) = [h.force for h in found.held if h.body == FRAME and h.point == "hinge"]
    total = hinge_force + sum(struts)
    assert np.linalg.norm(total - force) <= 1e-9 * max(
        np.linalg.norm(hinge_force), np.linalg.norm(force), *map(np.linalg.norm, struts)
    )


@pytest.mark.parametrize(
    ("point", "place", "words"),
    [
        ("eye", (-100.0, 0.0, 0.0), "points at the hinge"),
        ("post", (0.0, 0.0, 40.0), "coincide"),
    ],
)
def test_a_link_that_cannot_hold_is_refused(point, place, words):
    points = {**POINTS, "post": np.array([-200.0, 0.0, 0.0]), point: np.array(place)}
    with pytest.raises(StaticsError, match=words):
        solve(PEDAL, on_pad(np.array([0.0, 0.0, -1.0])), points)


def by_least_squares(body, force, points):
    """Pull of the link and what a hinge bears, by the six equations of a free body: five reactions of a hinge and one
    pull."""
    axis = np.array(body.axis) / np.linalg.norm(body.axis)
    hinge = points[body.hinge]
    along = points[body.link.on_frame] - points[body.link.on_body]
    along = along / np.linalg.norm(along)
    across = np.linalg.svd(axis[None])[2][1:]
    columns = [[*along, *np.cross(points[body.link.on_body] - hinge, along)]]
    columns += [[*one, 0.0, 0.0, 0.0] for one in np.eye(3)]
    columns += [[0.0, 0.0, 0.0, *one] for one in across]
    load = [*force, *np.cross(points["pad"] - hinge, force)]
    found = np.linalg.solve(np.array(columns).T, -np.array(load))
    return found[0] * along, found[1:4], found[4] * across[0] + found[5] * across[1]


@given(coordinates, coordinates, coordinates, forces, st.tuples(*[st.floats(-1.0, 1.0)] * 3))
def test_a_hinge_of_any_direction_bears_all_but_the_turn_about_it(pad, eye, post, force, axis):
    assume(np.linalg.norm(axis) > 0.1 and np.linalg.norm(force) > 1.0)
    points = {"hinge": np.array([20.0, -30.0, 10.0]), "pad": pad, "eye": eye, "post": post}
    body = Body("arm", ("pad",), "hinge", Link("rod", "post", "eye"), list(axis))
    try:
        found = solve(body, [Held("arm", "pad", force, NONE, "wheel")], points)
    except StaticsError:
        return
    pull, reaction, turn = by_least_squares(body, force, points)
    size = np.linalg.norm(pull) + np.linalg.norm(force)
    assert on(found, "arm", "eye") == pytest.approx(pull, abs=1e-7 * size)
    (hinge,) = [one for one in found.held if one.body == "arm" and one.point == "hinge"]
    assert hinge.force == pytest.approx(reaction, abs=1e-7 * size)
    assert hinge.moment == pytest.approx(turn, abs=1e-4 * size)
    assert all(b.ok for b in found.balances)


# The arm of a sidecar's wheel, hinged along x, 300 out; its strut stands upright 200 out: 300 / 200 of the load.
SIDECAR = Body("arm", ("pad",), "hinge", Link("strut", "post", "eye"), "forward")
OF_SIDECAR = {
    "hinge": np.zeros(3),
    "pad": np.array([0.0, 300.0, 0.0]),
    "eye": np.array([0.0, 200.0, 0.0]),
    "post": np.array([0.0, 200.0, 250.0]),
}


def test_the_arm_of_a_sidecar_hinges_along_x():
    found = solve(
        SIDECAR, [Held("arm", "pad", np.array([0.0, 0.0, 1000.0]), NONE, "ground")], OF_SIDECAR
    )
    assert on(found, "arm", "eye") == pytest.approx([0.0, 0.0, -1500.0])
    assert on(found, "arm", "hinge") == pytest.approx([0.0, 0.0, 500.0])
    crosswise = SIDECAR._replace(axis="left")
    with pytest.raises(StaticsError, match="points at the hinge"):  # about y nothing holds it
        solve(crosswise, [Held("arm", "pad", np.ones(3), NONE, "ground")], OF_SIDECAR)


LEVER = PEDAL._replace(stop=Post("stop", "pad"), spring=Spring("lug", "pin", 60.0))
OF_LEVER = {
    **POINTS,
    "stop": np.array([50.0, 0.0, 20.0]),  # over the arm, 50 out: stops what lifts the pad
    "lug": np.array([-30.0, 0.0, 0.0]),
    "pin": np.array([-30.0, 0.0, -50.0]),  # pulls down behind the pivot, and so lifts the pad
}


def test_what_lifts_a_pedal_goes_to_its_stop_and_not_to_the_rod():
    """100 N at 150 and 60 N of the spring at 30 turn it onto the stop at 50: (15,000 + 1,800) / 50 = 336 N."""
    found = solve(LEVER, on_pad(np.array([0.0, 0.0, 100.0])), OF_LEVER)
    assert on(found, "pedal", "stop") == pytest.approx([0.0, 0.0, -336.0])
    assert on(found, FRAME, "stop") == pytest.approx([0.0, 0.0, 336.0])
    assert on(found, FRAME, "pin") == pytest.approx([0.0, 0.0, 60.0])
    assert on(found, "rod", "eye") == pytest.approx([0.0, 0.0, 0.0])
    assert on(found, "pedal", "hinge") == pytest.approx([0.0, 0.0, 336.0 + 60.0 - 100.0])
    assert all(b.ok for b in found.balances)


def test_a_spring_that_relieves_the_rod_counts_and_does_not():
    """600 N at 150 over 40 is 2,250 N; less the spring's 60 at 30 over 40, 2,205."""
    found = solve(LEVER, on_pad(np.array([0.0, 0.0, -600.0])), OF_LEVER)
    bare, hooked = ([one for one in found.held if bool(one.also) is also] for also in (False, True))
    for some, pull in ((bare, 2250.0), (hooked, 2205.0)):
        (rod,) = [one.force for one in some if one.body == "pedal" and one.point == "eye"]
        assert rod == pytest.approx([-pull, 0.0, 0.0])
    assert "pin" not in {one.point for one in bare}
    assert [one.force[2] for one in hooked if one.body == FRAME and one.point == "pin"] == [60.0]
    assert not any(np.any(one.force) for one in found.held if one.point == "stop")
    assert len(found.balances) == 4 and all(b.ok for b in found.balances)


@pytest.mark.parametrize("stop", [(50.0, 0.0, 0.0), (-50.0, 0.0, 20.0), (1.0, 0.0, 20.0)])
def test_a_stop_that_its_arm_does_not_meet_is_refused(stop):
    with pytest.raises(StaticsError, match="does not stand beside its arm; move stop"):
        solve(LEVER, on_pad(np.array([0.0, 0.0, 100.0])), {**OF_LEVER, "stop": np.array(stop)})


# The corner of a car: two wishbones of two links each, a tie rod and a pushrod, on an upright; mm.
CORNER = {
    "upper front": ((120.0, 350.0, 330.0), (0.0, 620.0, 320.0)),
    "upper rear": ((-130.0, 350.0, 330.0), (0.0, 620.0, 320.0)),
    "lower front": ((150.0, 300.0, 150.0), (5.0, 650.0, 130.0)),
    "lower rear": ((-150.0, 300.0, 150.0), (5.0, 650.0, 130.0)),
    "tie rod": ((90.0, 310.0, 180.0), (95.0, 640.0, 165.0)),
    "pushrod": ((0.0, 340.0, 480.0), (0.0, 600.0, 150.0)),
}
WHEEL = {"contact": np.array([0.0, 720.0, 0.0])}


def corner_of_a_car():
    places = {f"{name}, {end}": np.array(at) for name, ends in CORNER.items()
              for end, at in zip(("frame", "upright"), ends, strict=True)}  # fmt: skip
    links = tuple(Link(name, f"{name}, frame", f"{name}, upright") for name in CORNER)
    return OnLinks("upright", ("contact",), links), {**places, **WHEEL}


def test_six_links_hold_an_upright_as_virtual_work_has_it():
    body, points = corner_of_a_car()
    load = {"contact": np.array([-2500.0, 3000.0, 4000.0])}
    found = solve_on_links(
        body, [Held("upright", at, one, NONE, "ground") for at, one in load.items()], points
    )
    assert [one.error for one in found.balances] == [""]
    on_frame = sum(one.force for one in found.held if one.body == FRAME)
    assert on_frame == pytest.approx(load["contact"])
    # By another route: a link let go moves the contact, and its pull times its own change of length is the load's work.
    for k, link in enumerate(body.links):
        rates = []
        for one in body.links:
            joint, foot = points[one.on_body], points[one.on_frame]
            way = (foot - joint) / np.linalg.norm(foot - joint)
            rates.append([*way, *np.cross(joint, way)])
        freed = np.delete(np.array(rates), k, axis=0)
        velocity = np.linalg.svd(freed)[2][-1]
        shortens = np.array(rates[k]) @ velocity
        moves = velocity[:3] + np.cross(velocity[3:], points["contact"])
        (pull,) = [one.force for one in found.held if one.body == "upright" and one.by == link.name]
        way = points[link.on_frame] - points[link.on_body]
        size = pull @ way / np.linalg.norm(way)
        assert size * shortens == pytest.approx(-load["contact"] @ moves, rel=1e-9)


def test_links_that_leave_a_body_free_are_refused():
    body, points = corner_of_a_car()
    # The pushrod turned into the plane of the lower wishbone: nothing holds the wheel up.
    loose = {
        **points,
        "pushrod, frame": points["lower front, frame"],
        "pushrod, upright": points["lower front, upright"],
    }
    with pytest.raises(StaticsError, match="leave it a way to move"):
        solve_on_links(
            body, [Held("upright", "contact", np.array([0.0, 0.0, 1.0]), NONE, "ground")], loose
        )


def test_a_build_may_hold_a_body_by_six_links(tmp_path):
    body, points = corner_of_a_car()
    lines = "".join(
        f'  "{name}": {{at: {[float(v) for v in at]}}}\n' for name, at in points.items()
    )
    links = "".join(
        f'  {one.name}: {{frame: "{one.on_frame}", body: "{one.on_body}"}}\n' for one in body.links
    )
    names = ", ".join(one.name for one in body.links)
    taken = ", ".join(f'"{name}": named' for name in (*points, "upright", *CORNER))
    text = BUILD.replace("hardpoints:\n", f"hardpoints:\n{lines}").replace(
        "\nparts:", f"\nlinks:\n{links}bodies:\n  upright: {{links: [{names}], loaded_at: [contact]}}\n"
        f"not_modelled: {{{taken}}}\n"
        "cases:\n  - {type: stated, name: kerb, at: contact, force: 3 kN, direction: left}\nparts:",
    )  # fmt: skip
    build = Build(write(tmp_path, text))
    (case,) = build.cases
    assert {one.body for one in case.held} == {"upright", "frame", *CORNER} and build.ends
    (problem,) = refused(
        write(tmp_path, text.replace(f"[{names}]", f"[{names.rsplit(', ', 1)[0]}]"))
    )
    assert problem.field == "bodies.upright" and "5 links are named" in str(problem)


def test_a_build_may_hold_the_arm_of_a_sidecar_on_a_hinge_along_x(tmp_path):
    """The kerb's 3 kN sideways and 2 kN up at 300 out and 250 below the hinge; the strut stands upright 200 out:
    (2 x 300 + 3 x 250) / 200 = 6.75 kN."""
    at = {
        "hub": [0, 500, 300],
        "pivot": [0, 200, 300],
        "eye": [0, 400, 300],
        "post": [0, 400, 600],
        "tread": [0, 500, 50],
    }
    lines = "".join(f"  {name}: {{at: {place}}}\n" for name, place in at.items())
    taken = ", ".join(f"{name}: named" for name in (*at, "arm", "strut"))
    text = BUILD.replace("hardpoints:\n", f"hardpoints:\n{lines}").replace(
        "\nparts:", "\nlinks: {strut: {frame: post, body: eye}}\nbodies:\n"
        "  arm: {hinge: pivot, axis: forward, link: strut, loaded_at: [tread, hub]}\n"
        f"not_modelled: {{{taken}}}\n"
        "cases:\n  - {type: stated, name: kerb, at: tread, force: 3606 N, direction: [0, 3, 2]}\nparts:",
    )  # fmt: skip
    build = Build(write(tmp_path, text))
    (case,) = build.cases
    assert build.ends and not [one.error for one in case.balances if one.error]
    assert on(case, "strut", "eye")[2] == pytest.approx(6750.0, rel=1e-3)
    (hinge,) = [one for one in case.held if one.body == "arm" and one.point == "pivot"]
    assert hinge.moment[0] == pytest.approx(0.0, abs=1e-6)
    (problem,) = refused(write(tmp_path, text.replace("axis: forward, ", "")))
    assert "strut points at the hinge of arm" in str(problem)
