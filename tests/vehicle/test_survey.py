"""Hardpoints from readings: held against a printed adjustment, another solver, chance, and slips put in on purpose."""

import re
from functools import partial
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

from parts.cli.commands import app
from parts.inputs.problems import InputError
from parts.report.page.readings import readings_page
from parts.report.survey import survey_json, survey_svg, survey_text
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from parts.vehicle.survey.adjustment import adjusted
from parts.vehicle.survey.entries import Distance, Height
from parts.vehicle.survey.misreadings import further, unchecked, without_misreadings
from parts.vehicle.survey.observations import (
    Observation,
    coordinate,
    distance,
    off_line,
    off_square,
    offset,
    slope,
)
from parts.vehicle.survey.survey import survey_of

READINGS = Path("params/readings")
PLACES = {
    "pivot": (0.0, 0.0, 437.0),
    "mark": (600.0, 0.0, 0.0),
    "post": (0.0, 500.0, 100.0),
    "axle": (-486.0, 0.0, 320.0),
    "link": (-258.0, -64.0, 386.0),
    "damper": (-245.0, 60.0, 720.0),
}
PLACES = {name: np.array(at) for name, at in PLACES.items()}
KNOWN = {name: PLACES[name] for name in ("pivot", "mark", "post")}
ABOUT = {name: at + 20.0 for name, at in PLACES.items() if name not in KNOWN}


def tape(a, b, value, sigma=0.5):
    entry = Distance(type="tape", between=(a, b), reads=value)
    return Observation(
        f"tape, {a} to {b}", "mm", (a, b), value, sigma, partial(distance, a, b), entry
    )


def tapes(chance=None, places=PLACES):
    found = []
    for a, b in combinations(places, 2):
        if not {a, b} <= set(KNOWN):
            error = 0.0 if chance is None else chance.normal(0.0, 0.5)
            found.append(tape(a, b, distance(a, b, places)[0] + error))
    return found


def thorough(chance):
    """Tapes, and the height of every point."""
    heights = []
    for name in ("axle", "link", "damper"):
        entry = Height(of=name, reads=PLACES[name][2])
        value = entry.reads + chance.normal(0.0, 0.1)
        heights.append(
            Observation(
                f"height of {name}", "mm", (name,), value, 0.1, partial(coordinate, name, 2), entry
            )
        )
    return tapes(chance) + heights


def test_levelled_loop_has_the_printed_heights_and_errors():
    """Sample of a loop levelled both ways in a public manual of adjustment of survey networks: heights, standard errors
    at 5 mm a leg, sum of squares and the largest normalised residual as printed there."""
    legs = [
        ("1", "4", -1.225), ("4", "3", -0.848), ("3", "2", 1.342), ("2", "1", 0.720),
        ("1", "2", -0.724), ("2", "3", -1.335), ("3", "4", 0.842), ("4", "1", 1.231),
    ]  # fmt: skip
    read = [
        Observation(
            f"{a} {b}",
            "mm",
            (a, b),
            1000.0 * rise,
            5.0,
            partial(offset, a, b, 2),
            Height(of=b, reads=0.0),
        )
        for a, b, rise in legs
    ]
    found = adjusted(read, {"1": np.array([0.0, 0.0, 1e6])})
    heights = {name: found.places[name][2] / 1000.0 for name in "432"}
    assert heights == pytest.approx({"4": 998.77513, "3": 997.93325, "2": 999.27487}, abs=6e-6)
    errors = [np.sqrt(found.covariance[k, k]) for k in (2, 5, 8)]
    assert np.round(errors, 1) == pytest.approx([3.1, 3.5, 3.1])
    assert found.freedom == 5
    assert found.squares * 25.0 == pytest.approx(146.625, abs=6e-3)
    assert np.abs(found.standardised).max() == pytest.approx(1.68, abs=6e-3)
    assert not found.determined  # a level says nothing along x and y
    assert (
        found.open_at("3") == pytest.approx(np.array([[1.0, 0, 0], [0, 1.0, 0]]), abs=1e-9)
        or len(found.open_at("3")) == 2
    )


def test_places_are_those_of_another_solver():
    """The same sum of squares, minimised without gradients by another method of scipy."""
    from scipy.optimize import minimize

    read = tapes(np.random.default_rng(3))
    names = [name for name in PLACES if name not in KNOWN]

    def squares(x):
        places = {**KNOWN, **{n: x[3 * i : 3 * i + 3] for i, n in enumerate(names)}}
        return sum(((o.value - o.measure(places)[0]) / o.sigma) ** 2 for o in read)

    start = np.concatenate([PLACES[n] for n in names])
    other = minimize(
        squares, start, method="Powell", options={"xtol": 1e-9, "ftol": 1e-14, "maxiter": 20000}
    )
    found = adjusted(read, KNOWN, ABOUT)
    assert found.squares <= other.fun + 1e-6
    for i, name in enumerate(names):
        assert found.places[name] == pytest.approx(other.x[3 * i : 3 * i + 3], abs=0.01)


def test_ellipsoids_hold_nineteen_of_twenty():
    """Chance itself: readings drawn 250 times with the errors stated; 95 % +- three standard errors of the count."""
    chance = np.random.default_rng(5)
    inside = np.zeros(3)
    for _ in range(250):
        found = adjusted(tapes(chance), KNOWN, PLACES)
        for k, name in enumerate(n for n in PLACES if n not in KNOWN):
            half, ways = found.axes(name)
            inside[k] += np.sum(((ways @ (PLACES[name] - found.places[name])) / half) ** 2) <= 1.0
    assert np.all(np.abs(inside / 250.0 - 0.95) < 3.0 * np.sqrt(0.95 * 0.05 / 250.0))


@pytest.mark.parametrize(
    "measure",
    [
        partial(distance, "axle", "link"),
        partial(slope, "axle", "pivot"),
        partial(off_square, "axle", "pivot", "post"),
        partial(off_square, "post", "pivot", "axle"),
        partial(offset, "axle", "link", 1),
    ],
    ids=lambda m: m.func.__name__,
)  # fmt: skip
def test_gradients_are_those_of_small_steps(measure):
    for name, gradient in measure(PLACES)[1].items():
        for axis in range(3):
            step = 1e-4 * np.eye(3)[axis]
            up, down = ({**PLACES, name: PLACES[name] + s} for s in (step, -step))
            assert gradient[axis] == pytest.approx(
                (measure(up)[0] - measure(down)[0]) / 2e-4, abs=1e-7
            )


def test_gradient_off_a_line_is_right_where_the_points_are_in_line():
    places = {
        "a": PLACES["axle"],
        "b": (PLACES["axle"] + PLACES["damper"]) / 2.0,
        "c": PLACES["damper"],
    }
    for side in (0, 1):
        measure = partial(off_line, "a", "b", "c", side)
        for name, gradient in measure(places)[1].items():
            for axis in range(3):
                step = 1e-4 * np.eye(3)[axis]
                up, down = ({**places, name: places[name] + s} for s in (step, -step))
                assert gradient[axis] == pytest.approx(
                    (measure(up)[0] - measure(down)[0]) / 2e-4, abs=1e-5
                )


@pytest.mark.parametrize("seed", range(8))
def test_a_misread_tape_is_found_and_its_slip_named(seed):
    chance = np.random.default_rng(seed)
    read = thorough(chance)
    k = int(chance.integers(12))
    true = read[k]
    read[k] = tape(*true.points, true.value + 10.0)
    found, (one,) = without_misreadings(read, KNOWN, ABOUT)
    assert true.points in [o.points for o in (one.observation, *one.or_else)]
    if one.observation is read[k]:
        assert one.should == pytest.approx(true.value, abs=3.0 * one.error)
        assert "read 10 mm too long" in one.slips
    assert found.agrees


def test_most_misread_tapes_are_told_from_the_good_ones():
    """Of sixty slips of 10 mm, as large as twenty errors, nine of ten are blamed on the right tape."""
    right = 0
    for seed in range(60):
        chance = np.random.default_rng(100 + seed)
        read = thorough(chance)
        k = int(chance.integers(12))
        read[k] = tape(*read[k].points, read[k].value + 10.0)
        misread = without_misreadings(read, KNOWN, ABOUT)[1]
        right += misread[0].observation is read[k]
    assert right >= 54


def test_good_readings_are_rarely_blamed():
    """One good reading in a thousand lies beyond Baarda's limit: of 60 surveys of 12 readings few blame any."""
    chance = np.random.default_rng(11)
    blamed = sum(len(without_misreadings(tapes(chance), KNOWN, ABOUT)[1]) for _ in range(60))
    assert blamed <= 3


def test_outside_for_inside_is_named():
    read = tapes(np.random.default_rng(2))
    entry = Distance(
        type="tape", between=("axle", "link"), reads=300.0, over="outside", holes=(12.0, 10.0)
    )
    right = distance("axle", "link", PLACES)[0]
    # He measured inside, 11 mm less than the centres, and wrote `outside`.
    entry = entry.model_copy(update={"reads": right - 11.0})
    k = next(i for i, o in enumerate(read) if set(o.points) == {"axle", "link"})
    read[k] = Observation("tape, axle to link", "mm", ("axle", "link"), entry.centres(entry.reads, "outside"), 0.5,
                          partial(distance, "axle", "link"), entry)  # fmt: skip
    _, misread = without_misreadings(read, KNOWN, ABOUT)
    assert misread[0].slips[0] == "read over inside, not outside"


def test_with_one_reading_to_spare_no_single_one_is_blamed_alone():
    """Four tapes to one point: whichever is wrong, all four stand equally under suspicion."""
    known = {**KNOWN, "far": np.array([-600.0, -300.0, 50.0])}
    read = [tape(name, "axle", distance(name, "axle", {**PLACES, **known})[0]) for name in known]
    read[0] = tape("pivot", "axle", read[0].value + 12.0)
    _, misread = without_misreadings(read, known, ABOUT)
    assert len(misread) == 1
    assert len(misread[0].or_else) == 3


def test_tapes_alone_leave_a_mirrored_place_and_about_decides():
    read = [tape(name, "axle", distance(name, "axle", PLACES)[0]) for name in KNOWN]
    found = adjusted(read, KNOWN)
    assert len(found.others) == 1
    both = [found.places["axle"], found.others[0]["axle"]]
    assert min(np.linalg.norm(at - PLACES["axle"]) for at in both) < 1e-3
    told = adjusted(read, KNOWN, {"axle": PLACES["axle"] + 30.0})
    assert not told.others
    assert told.places["axle"] == pytest.approx(PLACES["axle"], abs=1e-4)
    assert unchecked(told) == list(told.observations)


def test_what_is_open_is_said_with_the_reading_that_closes_it():
    read = [tape(name, "axle", distance(name, "axle", PLACES)[0]) for name in ("pivot", "mark")]
    known = {name: KNOWN[name] for name in ("pivot", "mark")}
    found = adjusted(read, known, ABOUT)
    (way,) = found.open_at("axle")
    legs = [found.places["axle"] - at for at in known.values()]
    assert way @ legs[0] == pytest.approx(0.0, abs=1e-6)
    assert way @ legs[1] == pytest.approx(0.0, abs=1e-6)
    # The open way is square to the plane of the three points, which is y; a plumb line along y closes it.
    assert further(found).said.startswith("plumb line along y")


def test_demo_readings_agree_with_the_build_and_the_slip_in_the_second_file_is_named():
    survey = survey_of((READINGS / "rear-end.yaml").read_bytes(), "rear-end.yaml")
    assert survey.sound
    build = build_of("params/build.yaml")
    for name, one in survey.hardpoints().items():
        stated = build.hardpoints[name]
        assert np.linalg.norm(one.at - stated.at) <= one.within + stated.within, name
    text = (READINGS / "rear-end-misread.yaml").read_bytes()
    misread = survey_of(text, "misread.yaml")
    (one,) = misread.misreadings
    line = text.decode().splitlines()[one.observation.line - 1]
    assert "rear axle, torsion bar" in line
    assert "read 10 mm too long" in one.slips
    with pytest.raises(InputError, match=rf"misread.yaml:{one.observation.line}:.*10 mm too long"):
        misread.hardpoints()


BUILD = """
build: tail
units: mm
survey: readings.yaml
hardpoints:
  tab: {from: axle, offset: [0, 0, 10]}
parts: [{file: rod.yaml}]
"""
SURVEY = """
survey: tail
units: mm
known: {pivot: [0, 0, 437]}
about: {axle: [-480, 0, 300]}
taken:
  - {type: height gauge, of: axle, reads: 320}
  - {type: plumb line, between: [pivot, axle], along: x, reads: -486}
  - {type: plumb line, between: [pivot, axle], along: y, reads: 0}
  - {type: tape, between: [pivot, axle], reads: 500}
"""


def test_build_takes_its_points_from_readings(tmp_path):
    (tmp_path / "build.yaml").write_text(BUILD)
    (tmp_path / "rod.yaml").write_text(Path("params/hc-107-brake-rod-clevis.yaml").read_text())
    (tmp_path / "readings.yaml").write_text(SURVEY)
    points = build_of(tmp_path / "build.yaml").hardpoints
    assert points["axle"].at == pytest.approx([-486.0, 0.0, 320.0], abs=0.2)
    assert points["tab"].at == pytest.approx([-486.0, 0.0, 330.0], abs=0.2)
    assert 0.5 < points["axle"].within < 3.0
    # The build is read again once a reading changes.
    (tmp_path / "readings.yaml").write_text(SURVEY.replace("reads: 320", "reads: 321"))
    assert build_of(tmp_path / "build.yaml").hardpoints["axle"].at[2] > points["axle"].at[2] + 0.5


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("reads: 500}", "reads: 520}"), "it could as well be the reading of line"),
        (("of: axle, reads", "of: axle two, reads"), "do not say where `axle two` is"),
        (("of: axle, reads", "of: axel, reads"), "`axle` may be meant"),
        (("[pivot, axle], reads: 500", "[axle, axle], reads: 500"), "both ends are one point"),
        (("about: {axle", "about: {axis"), "no reading names this point"),
        (("reads: 320", "reads: 320 kg"), "readings.yaml:7:"),
        (("type: tape,", "type: tape, over: outside,"), "needs the diameters there"),
    ],
    ids=["misread", "open", "misspelt", "one point", "about nothing", "unit", "no diameters"],
)  # fmt: skip
def test_wrong_readings_are_told_with_file_and_line(tmp_path, change, says):
    (tmp_path / "build.yaml").write_text(BUILD)
    (tmp_path / "rod.yaml").write_text(Path("params/hc-107-brake-rod-clevis.yaml").read_text())
    (tmp_path / "readings.yaml").write_text(SURVEY.replace(*change))
    with pytest.raises(InputError) as caught:
        _ = build_of(tmp_path / "build.yaml").hardpoints
    assert says in str(caught.value)


def test_point_stated_elsewhere_than_it_was_read_is_told(tmp_path):
    stated = "hardpoints:\n  axle: {at: [-480, 0, 320], within: 1}\n"
    (tmp_path / "build.yaml").write_text(BUILD.replace("hardpoints:\n", stated))
    (tmp_path / "rod.yaml").write_text(Path("params/hc-107-brake-rod-clevis.yaml").read_text())
    (tmp_path / "readings.yaml").write_text(SURVEY)
    with pytest.raises(
        InputError, match=r"hardpoints.axle: it lies 6.1 mm from where the readings have it"
    ):
        _ = build_of(tmp_path / "build.yaml").hardpoints


def test_command_says_by_its_status_whether_every_point_has_its_place(tmp_path):
    run = CliRunner().invoke
    good = run(
        app,
        ["readings", str(READINGS / "rear-end.yaml"), "--picture", str(tmp_path / "points.svg")],
    )
    assert good.exit_code == 0
    assert "the readings agree" in good.stdout
    assert (tmp_path / "points.svg").read_bytes().startswith(b"<svg")
    assert run(app, ["readings", str(READINGS / "rear-end-misread.yaml")]).exit_code == 1


def test_report_says_what_is_wrong_and_never_minus_nil():
    import json

    survey = survey_of((READINGS / "rear-end-misread.yaml").read_bytes(), "misread.yaml")
    text = survey_text(survey)
    assert "MISREAD, line" in text
    assert " -0.00" not in text
    data = json.loads(survey_json(survey))
    assert not data["sound"]
    assert data["misreadings"][0]["slips"][0] == "read 10 mm too long"
    page = readings_page(survey).decode()
    assert page.startswith("<!DOCTYPE html>")
    assert "MISREAD, line" in page
    assert "tape, rear axle to damper on frame" in page
    picture = survey_svg(survey).decode()
    assert picture.count("stroke-dasharray") == 2
    assert "nan" not in picture


MEASURED = re.compile(r"^  \"?[\w ,]+\"?: \{at: [^}]*\}.*\n", re.MULTILINE)


@pytest.fixture(scope="module")
def read_build(tmp_path_factory):
    """The demo build without a measured hardpoint of its own: its points come from readings alone."""
    folder = tmp_path_factory.mktemp("read")
    for file in Path("params").glob("*.yaml"):
        (folder / file.name).write_text(file.read_text())
    text = (folder / "build.yaml").read_text()
    bare, count = MEASURED.subn("", text)
    assert count == 27
    (folder / "build.yaml").write_text(
        bare.replace("units: mm\n", "units: mm\nsurvey: read.yaml\n", 1)
    )
    (folder / "read.yaml").write_text((READINGS / "whole-machine.yaml").read_text())
    return Build(folder / "build.yaml")


def test_a_build_of_readings_alone_has_its_points_within_their_errors(read_build):
    """Each point lies within the longest half axis of its ellipsoid and what it was stated to, half within a third."""
    stated = build_of("params/build.yaml").hardpoints
    assert read_build.hardpoints.keys() == stated.keys()
    share = [np.linalg.norm(one.at - stated[name].at) / max(one.within + stated[name].within, 0.1)
             for name, one in read_build.hardpoints.items()]  # fmt: skip
    assert max(share) <= 1.0
    assert np.median(share) < 0.34


@pytest.mark.slow
def test_a_build_of_readings_alone_makes_the_same_parts(read_build):
    """Every length and angle of every part is that of the demo, within what its hardpoints may be off: the sum of each
    slope times the tolerance of its point in both builds."""
    from parts.study.sure.given import measures, slopes
    from parts.study.sure.moving import moved, own_error, roots
    from parts.vehicle.file.forms import forms_in, owners_of

    build = build_of("params/build.yaml")
    others = {}
    compared = 0
    for name in build.names:
        drawn, read = measures(build.bare(name)), measures(read_build.bare(name))
        assert drawn.keys() == read.keys()
        room = dict.fromkeys(drawn, 1e-6)
        takes = any(any(owners_of(form)) for _, form in forms_in(build.written(name).data))
        for point in build.hardpoints if takes else roots(build, name):
            within = own_error(build, point) + own_error(read_build, point)
            for axis in range(3):
                if within and (point, axis) not in others:
                    others[point, axis] = moved(build, point, axis)
                if within:
                    for path, slope in slopes(drawn, build, others[point, axis], name).items():
                        room[path] += abs(slope) * within
        for path, value in drawn.items():
            assert abs(read[path] - value) <= room[path], (name, path)
            compared += read[path] != value
    assert compared >= 8  # what hangs on points that are read themselves, in a dozen parts
