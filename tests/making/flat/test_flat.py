"""Flat blanks: the DXF read again by ezdxf, its area held against the section of the solid, holes, text."""

import io
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import cadquery as cq
import ezdxf
import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely.geometry import LineString, Polygon

import parts
from parts.core.blank import Blank, BlankHole
from parts.core.shop import Cutting
from parts.features.pins.pin import ReamedHole
from parts.making.flat.files import flat_files, lay_out
from parts.making.flat.findings import RANGE_1, sharp_corners, taper_note
from parts.making.flat.profile import least_hole, profile, webs
from parts.making.model import MakeError
from parts.strength.section.figures import circle, rectangle
from parts.strength.section.outline import Loop
from parts.strength.section.properties import properties

PARAMS = Path(parts.__file__).parents[1] / "params"


@cache
def demo(name):
    return parts.load(next(PARAMS.glob(f"{name.lower()}*.yaml")))


def files_of(part):
    return flat_files(SimpleNamespace(result=SimpleNamespace(part=part, checks=())))


@cache
def files(name):
    return files_of(demo(name))


def document(content):
    return ezdxf.read(io.StringIO(content.decode()))


def loop_area(entity):
    """Area of a closed polyline of lines and arcs, or of a circle: shoelace and circular segments."""
    if entity.dxftype() == "CIRCLE":
        return np.pi * entity.dxf.radius**2
    rows = np.array(list(entity.get_points("xyb")))
    p, q, bulge = rows[:, :2], np.roll(rows[:, :2], -1, axis=0), rows[:, 2]
    shoelace = float((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum()) / 2.0
    arc = 4.0 * np.arctan(bulge)
    curved = np.abs(bulge) > 1e-12
    chord = np.linalg.norm(q - p, axis=1)[curved]
    radius = chord / (2.0 * np.sin(np.abs(arc[curved]) / 2.0))
    segments = radius**2 / 2.0 * (np.abs(arc[curved]) - np.sin(np.abs(arc[curved])))
    return abs(shoelace + float((np.sign(bulge[curved]) * segments).sum()))


def cut_area(doc):
    space = doc.modelspace()
    outer = sum(loop_area(e) for e in space.query('*[layer=="OUTLINE"]'))
    return outer - sum(loop_area(e) for e in space.query('*[layer=="CUTOUT" | layer=="PILOT"]'))


def section_area(part, blank):
    """Area of the solid in the middle plane of the plate, by the kernel's own face area."""
    normal, x, _ = blank.axes
    plane = cq.Plane(
        tuple(map(float, blank.origin)), tuple(map(float, x)), tuple(map(float, normal))
    )
    sheet = cq.Face.makePlane(4000.0, 4000.0, plane.origin, plane.zDir)
    return sheet.intersect(part.pieces[0].solid.val()).Area()


@pytest.mark.parametrize("name", ["HC-104", "hc-108", "hc-109"])
def test_the_dxf_is_sound_and_closed(name):
    part = demo(name)
    doc = document(files(name)[f"{part.name}-flat.dxf"])
    auditor = doc.audit()
    assert not auditor.errors and not auditor.fixes
    assert doc.header["$INSUNITS"] == 4 and doc.header["$MEASUREMENT"] == 1
    cuts = doc.modelspace().query('*[layer=="OUTLINE" | layer=="CUTOUT" | layer=="PILOT"]')
    assert {e.dxftype() for e in cuts} <= {"LWPOLYLINE", "CIRCLE"}
    assert all(e.closed for e in cuts if e.dxftype() == "LWPOLYLINE")
    assert len(doc.modelspace().query('*[layer=="OUTLINE"]')) == 1
    assert any(part.name in e.dxf.text for e in doc.modelspace().query("TEXT"))


@pytest.mark.parametrize("name", ["HC-104", "hc-108", "hc-109"])
def test_the_area_cut_is_that_of_the_solid_but_for_what_follows(name):
    part = demo(name)
    (blank,) = part.blanks()
    area = cut_area(document(files(name)[f"{part.name}-flat.dxf"]))
    cut = {one.name: one.diameter for one in profile(blank, part.cutting).cuts}
    for hole in blank.holes:
        # What pilots and marks leave in, and what a flared rim has bent away, in the middle of the sheet.
        finished = hole.diameter if hole.wide is None else hole.wide
        area -= np.pi / 4.0 * (finished**2 - cut.get(hole.name, 0.0) ** 2)
    assert_allclose(area, section_area(part, blank), rtol=1e-6)


def test_a_blank_that_is_not_the_solid_is_refused(monkeypatch):
    part = demo("hc-109")
    (blank,) = part.blanks()
    wrong = Blank(blank.outline, blank.thickness, blank.origin, blank.x, blank.y, blank.holes[:1])
    monkeypatch.setattr(type(part), "blanks", lambda self: [wrong])
    with pytest.raises(MakeError, match="flat blank differs from the solid's section"):
        files_of(part)


def test_the_same_part_gives_the_same_bytes():
    assert files_of(demo("hc-109")) == files("hc-109")


@pytest.mark.parametrize("name", ["HC-104", "hc-108", "hc-109"])
def test_the_engraving_lies_on_the_blank_and_keeps_clear(name):
    part = demo(name)
    doc = document(files(name)[f"{part.name}-flat.dxf"])
    space = doc.modelspace()
    outer = np.array(
        [
            (v.x, v.y)
            for v in ezdxf.path.make_path(space.query('*[layer=="OUTLINE"]')[0]).flattening(0.01)
        ]
    )
    strokes = [
        LineString(list(e.get_points("xy"))) for e in space.query('LWPOLYLINE[layer=="ENGRAVE"]')
    ]
    assert len(strokes) >= len(part.name)
    rims = [
        LineString([(v.x, v.y) for v in ezdxf.path.make_path(e).flattening(0.01)])
        for e in space.query('*[layer=="CUTOUT" | layer=="PILOT"]')
    ]
    plate = Polygon(outer)
    for stroke in strokes:
        assert plate.contains(stroke)
        # The edges are looked at every millimetre; between two of those points an arc bulges < 0.1 mm.
        assert min(edge.distance(stroke) for edge in [plate.exterior, *rims]) > 2.9


# --- holes -----------------------------------------------------------------------------------------


def plate(*holes, thickness=6.0, size=(80.0, 50.0)):
    return Blank(rectangle(*size), thickness, (0, 0, 0), (1, 0, 0), (0, 1, 0), tuple(holes))


def layers(made):
    return {cut.name: (cut.layer, cut.diameter) for cut in made.cuts}


def test_a_hole_that_is_finished_later_is_cut_as_a_pilot():
    blank = plate(
        BlankHole("pin", (-20.0, 0.0), 10.0, "reamed H7"),
        BlankHole("screw", (0.0, 0.0), 3.5, "tapped M4"),
        BlankHole("light", (20.0, 0.0), 12.0),
    )
    made = profile(blank, Cutting(pilot_under=1.5))
    assert layers(made)["pin"] == ("PILOT", 8.5)
    assert layers(made)["light"] == ("CUTOUT", 12.0)
    # 3.5 - 1.5 is less than half of 6 mm: no jet cuts that, so its centre is marked.
    assert [hole.name for hole in made.marks] == ["screw"]
    assert_allclose(made.area, 80 * 50 - np.pi / 4 * (8.5**2 + 12**2), rtol=1e-12)


@pytest.mark.parametrize(
    "process, thickness, least",
    [("waterjet", 6.0, 3.0), ("waterjet", 2.0, 2.0), ("laser", 6.0, 6.0)],
)
def test_smallest_hole_against_thickness(process, thickness, least):
    cutting = Cutting(process=process)
    assert least_hole(cutting, thickness) == least
    for diameter, ok in ((least - 0.01, False), (least + 0.01, True)):
        blank = plate(BlankHole("oil", (0.0, 0.0), diameter), thickness=thickness)
        (rule,) = [r for r in laid(blank, cutting).rules if r.code == "flat.hole"]
        assert bool(rule.ok) is ok and "oil at 0.0, 0.0" in rule.field


def laid(blank, cutting, metal="aluminium"):
    part = SimpleNamespace(
        name="HC-199", cutting=cutting, metal=SimpleNamespace(family=metal, density=2.7e-6)
    )
    return lay_out(part, blank, "HC-199")


def test_the_narrowest_web_is_found_where_it_is():
    blank = plate(BlankHole("a", (-10.0, 0.0), 12.0), BlankHole("b", (6.0, 3.0), 14.0))
    made = profile(blank, Cutting())
    found = {(w.first, w.second): w for w in webs(made.cuts)}
    width = np.hypot(16.0, 3.0) - 6.0 - 7.0
    # Points every 0.25 mm: a gap between circles is seen too wide by up to 0.25^2/8 (1/6 + 1/7)/... < 0.01 mm.
    assert width <= found["a", "b"].width < width + 0.01
    assert_allclose(
        found["a", "b"].at,
        np.array([-10, 0]) + np.array([16, 3]) / np.hypot(16, 3) * (6 + width / 2),
        atol=0.3,
    )
    assert_allclose(found["outline", "b"].width, 25.0 - 3.0 - 7.0, atol=0.01)


def test_a_web_too_narrow_is_named_with_its_place():
    blank = plate(BlankHole("a", (33.0, 0.0), 12.0), thickness=4.0)
    (rule,) = [r for r in laid(blank, Cutting(process="laser")).rules if r.code == "flat.web"]
    assert not rule.ok and "between outline and a at 39.5, 0.0" in rule.field
    assert_allclose(rule.value, 1.0, atol=0.01)
    assert laid(blank, Cutting()).broken  # 1 mm is less than half of 4 mm, too


def test_inside_corners_are_found_and_outside_corners_are_not():
    ell = np.array([(0, 0), (40, 0), (40, 10), (10, 10), (10, 30), (0, 30)], float)
    loop = Loop(ell, np.zeros(6))
    ((at, turn),) = sharp_corners(loop)
    assert_allclose(at, (10, 10)) and assert_allclose(turn, np.pi / 2)
    assert list(sharp_corners(rectangle(5, 5).loops[0])) == []
    assert list(sharp_corners(circle(5).loops[0].reversed())) == []
    # A window is walked clockwise: each of its square corners is an inside corner.
    assert len(list(sharp_corners(rectangle(5, 5).loops[0].reversed()))) == 4


def test_a_sheet_too_small_and_steel_too_thick_for_a_laser():
    codes = [r.code for r in laid(plate(), Cutting(sheet=(70.0, 200.0))).broken]
    assert codes == []  # it lies across the sheet, turned
    one = laid(plate(), Cutting(sheet=(60.0, 80.0)))
    assert [r.code for r in one.broken] == ["flat.sheet"] and not one.nest.sheets
    thick = plate(thickness=16.0)
    laser = Cutting(process="laser")
    assert "flat.laser" in [r.code for r in laid(thick, laser).broken]
    assert "flat.laser" not in [r.code for r in laid(thick, laser, "carbon steel").broken]


def test_the_taper_is_stated():
    assert "lean by about 0.1 mm" in taper_note(Cutting(), 6.0)
    assert f"{RANGE_1[0] + RANGE_1[1] * 6.0:.2f} mm in range 1" in taper_note(
        Cutting(process="laser"), 6.0
    )


# --- what the text says ----------------------------------------------------------------------------


def test_the_sheet_lists_holes_bends_nest_and_cautions():
    text = files("hc-108")["flat.txt"].decode()
    assert max(map(len, text.splitlines())) <= 100
    assert "for left, right" in text and "lightening hole 2" in text
    assert "flare the rim 2.50 mm high at 45 deg" in text and "mirror image" in text
    assert "utilisation" in text and "never ridden" in text
    part = demo("hc-108")
    area = profile(part.blanks()[0], part.cutting).area
    assert f"{2 * area / (1000 * 500):.2%}" in text


def test_a_bracket_is_cut_from_its_stock():
    part = demo("HC-104")
    text = files("HC-104")["flat.txt"].decode()
    assert f"thickness   {float(part.stock_thickness()):.3f} mm" in text
    assert "milled out of it, down to 24.00 mm" in text
    # The slot of mount 2 is cut to size; the bores are marked or cut small.
    (blank,) = part.blanks()
    assert [hole.name for hole in blank.holes] == ["mount 1", "mount 3", "shift"]
    assert len(blank.outline.loops) == 2 + len(part.shape.figure.windows)


def test_a_part_that_is_no_plate_says_so():
    found = files_of(demo("hc-101"))
    assert list(found) == ["flat.txt"] and b"nothing to cut flat" in found["flat.txt"]


def test_the_reamed_hole_of_a_tab_is_a_pilot():
    part = demo("hc-109")
    pin = part.tab.pin.model_copy(update={"hole": ReamedHole()})
    fresh = part.model_copy(update={"tab": part.tab.model_copy(update={"pin": pin})})
    made = profile(fresh.blanks()[0], fresh.cutting)
    assert layers(made)["tab hole"] == ("PILOT", fresh.tab.pin.bore - 1.0)
    assert properties(made.outline()).area > properties(fresh.blanks()[0].finished()).area
