"""Holes of bought things: from STEP, DXF and traced outlines, picked by number, and as readings of a survey."""

import json

import numpy as np
import pytest
from typer.testing import CliRunner

from parts.cli.commands import app
from parts.inputs.problems import InputError
from parts.report.survey import survey_text
from parts.vehicle.survey.holes import holes_of
from parts.vehicle.survey.outline import circle_through, path_points
from parts.vehicle.survey.survey import survey_of

run = CliRunner().invoke


@pytest.fixture(scope="module")
def engine(tmp_path_factory):
    """A crankcase: lugs 197 mm apart with 10 mm holes across, a stepped hole from above, a boss, a filleted edge."""
    import cadquery as cq

    case = cq.Workplane().box(220.0, 60.0, 40.0).edges("|Z").fillet(6.0)
    case = case.faces(">Z").workplane().center(0.0, 10.0).circle(9.0).extrude(12.0)
    for x in (-98.5, 98.5):
        case = case.cut(cq.Workplane("XZ", origin=(x, 40.0, 0.0)).circle(5.0).extrude(80.0))
    case = case.cut(cq.Workplane(origin=(50.0, 0.0, 10.0)).circle(8.0).extrude(20.0))
    case = case.cut(cq.Workplane(origin=(50.0, 0.0, -30.0)).circle(4.0).extrude(60.0))
    file = tmp_path_factory.mktemp("bought") / "engine.step"
    cq.exporters.export(case, str(file))
    return file


def test_holes_of_a_step_are_listed_without_bosses_and_fillets(engine):
    found = holes_of(engine)
    assert [one.number for one in found] == [1, 2, 3, 4]
    one, small, large, other = found
    assert (one.diameter, one.depth) == pytest.approx((10.0, 60.0))
    assert one.at == pytest.approx((-98.5, 0.0, 0.0), abs=1e-6)
    assert one.axis == pytest.approx((0.0, 1.0, 0.0))
    assert other.at == pytest.approx((98.5, 0.0, 0.0), abs=1e-6)
    assert (small.diameter, small.depth) == pytest.approx((8.0, 30.0))  # below the step
    assert small.at == pytest.approx((50.0, 0.0, -5.0), abs=1e-6)
    assert (large.diameter, large.depth) == pytest.approx((16.0, 10.0))


def test_command_lists_them(engine):
    shown = run(app, ["readings", str(engine)])
    assert shown.exit_code == 0
    assert "  1   -98.500     0.000     0.000    10.000    60.000  y" in shown.stdout
    data = json.loads(run(app, ["readings", str(engine), "--json"]).stdout)
    assert len(data["holes"]) == 4


def test_holes_of_a_dxf_in_inches(tmp_path):
    """Circles, and a round polyline of two bulges; a square and an open arc are none."""
    import ezdxf

    drawing = ezdxf.new()
    drawing.header["$INSUNITS"] = 1
    space = drawing.modelspace()
    space.add_circle((2.0, 1.0), 0.25)
    space.add_lwpolyline([(4.75, 1.0, 1.0), (5.25, 1.0, 1.0)], format="xyb", close=True)
    space.add_lwpolyline([(0, 0), (1, 0), (1, 1), (0, 1)], close=True)
    space.add_arc((8.0, 1.0), 0.25, 0.0, 200.0)
    drawing.saveas(tmp_path / "plate.dxf")
    one, other = holes_of(tmp_path / "plate.dxf")
    assert one.at == pytest.approx((50.8, 25.4, 0.0))
    assert one.diameter == pytest.approx(12.7)
    assert other.at == pytest.approx((127.0, 25.4, 0.0), abs=0.01)
    assert other.diameter == pytest.approx(12.7, abs=0.05)
    drawing.header["$INSUNITS"] = 0
    drawing.saveas(tmp_path / "bare.dxf")
    with pytest.raises(InputError, match="states no unit of length; say it, as in `scale: 1 mm`"):
        holes_of(tmp_path / "bare.dxf")
    assert holes_of(tmp_path / "bare.dxf", 25.4)[0].at == pytest.approx((50.8, 25.4, 0.0))


SVG = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1200 800">
<rect width="1200" height="800"/>
<g transform="translate(100 0) scale(2)">
 <circle cx="50" cy="100" r="20"/>
 <path d="M 400 100 a 20 20 0 1 0 -40 0 a 20 20 0 1 0 40 0 z"/>
 <path d="m 100 300 h 60 v 60 h -60 z"/>
 <path d="M 220 300 C 220 311.046 211.046 320 200 320 S 180 311.046 180 300 188.954 280 200 280 220 288.954 220 300 Z"/>
 <ellipse cx="300" cy="300" rx="30" ry="15"/>
</g></svg>"""


def test_holes_of_a_traced_outline(tmp_path):
    """A scan at 300 dots an inch: 1 px is 25.4/300 mm. Circle, two arcs and four curves are round, square and slot not;
    y runs downward in the picture, upward here."""
    (tmp_path / "scan.svg").write_text(SVG)
    scale = 25.4 / 300.0
    found = holes_of(tmp_path / "scan.svg", scale)
    places = [(200.0, -200.0), (500.0, -600.0), (860.0, -200.0)]
    assert len(found) == 3
    for one, place in zip(found, places, strict=True):
        assert one.at[:2] == pytest.approx(tuple(scale * v for v in place), abs=0.01)
        assert one.diameter == pytest.approx(80.0 * scale, rel=2e-3)
    with pytest.raises(InputError, match="an outline states no scale"):
        holes_of(tmp_path / "scan.svg")
    shown = run(app, ["readings", str(tmp_path / "scan.svg"), "--scale", "0.0846667 mm"])
    assert "  3    72.813" in shown.stdout


def test_points_of_a_path_are_those_of_its_pieces():
    (square,) = path_points("M0 0 10 0 10 10H0Z")
    assert square.tolist() == [[0, 0], [10, 0], [10, 10], [0, 10]]
    assert circle_through(square) is None
    (wave,) = path_points("M0 0Q5 10 10 0T20 0L0 0Z")
    assert wave[:, 1].min() == pytest.approx(-5.0, abs=0.1)  # the smooth piece mirrors its handle


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("none.step", None, "there is no such file"),
        ("bad.step", "nothing", "it is no STEP file|holds no round hole"),
        ("bad.dxf", "nothing", "it is no DXF file"),
        ("bad.svg", "<svg", "it is no SVG"),
        ("empty.svg", "<svg/>", "it holds no round hole"),
        ("file.obj", "", "is no file that holes are read from"),
    ],
)  # fmt: skip
def test_wrong_files_are_told(tmp_path, name, content, says):
    if content is not None:
        (tmp_path / name).write_text(content)
    with pytest.raises(InputError, match=says):
        holes_of(tmp_path / name, 1.0)


SURVEY = """
survey: engine
units: mm
known: {front lug: [300, 0, 400], mark: [0, 0, 0]}
bought:
  engine: {file: engine.step, holes: {front lug: 4, rear lug: 1}}
taken:
  - {type: height gauge, of: rear lug, reads: 420}
  - {type: plumb line, between: [front lug, rear lug], along: y, reads: 0}
  - {type: tape, between: [mark, rear lug], reads: 432.7}
  - {type: turn of a wheel, of: axle, reads: 2010.6}
  - {type: plumb line, between: [front lug, axle], along: x, reads: -600}
  - {type: plumb line, between: [front lug, axle], along: y, reads: 0}
"""


def test_holes_of_a_bought_thing_are_readings(engine):
    """The lugs are 197 mm apart and 20 mm out of level: the rear one lies sqrt(197² - 20²) = 195.982 mm behind. A wheel
    that rolls 2010.6 mm in a turn holds its axle 2010.6/(2 pi) = 320.0 mm over the ground."""
    survey = survey_of(SURVEY.encode(), str(engine.parent / "readings.yaml"))
    assert survey.sound
    at = survey.adjustment.places
    assert at["rear lug"] == pytest.approx(
        [300.0 - np.sqrt(197.0**2 - 20.0**2), 0.0, 420.0], abs=0.3
    )
    assert at["axle"][2] == pytest.approx(320.0, abs=0.01)
    assert "engine as drawn, front lug to rear lug" in survey_text(survey)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("rear lug: 1", "rear lug: 9", r"readings.yaml:6:\d+: bought.engine.holes.rear lug: engine.step has no hole 9"),
        ("rear lug: 1", "rear lug: 4", r"hole 4 is at two points"),
        ("engine.step", "motor.step", r"motor.step: there is no such file"),
    ],
)  # fmt: skip
def test_wrong_holes_are_told_by_line(engine, old, new, says):
    with pytest.raises(InputError, match=says):
        survey_of(SURVEY.replace(old, new).encode(), str(engine.parent / "readings.yaml"))
