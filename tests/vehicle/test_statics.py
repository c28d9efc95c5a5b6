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
