"""Fit-up prints: watertight, marked, holes enlarged, split and rejoined, and the sheet that goes with them."""

import io
import zipfile
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from xml.etree import ElementTree

import cadquery as cq
import lib3mf
import numpy as np
import pytest
import trimesh
from numpy.testing import assert_allclose

import parts
from parts.core.drawing import Hole
from parts.core.shop import PrintFit
from parts.making.print.engrave import DEPTH, engraved, groove
from parts.making.print.files import print_files, printed
from parts.making.print.foot import relieved
from parts.making.print.holes import ROOF, enlarged, printed_hole
from parts.making.print.orient import stands, stood
from parts.making.print.settings import settings
from parts.making.print.sheet import _piece
from parts.making.print.split import split, where
from parts.making.print.threemf import CORE, Object, threemf_bytes
from parts.standards.materials.materials import material
from parts.standards.materials.printing import insert_hole, shrinkage
from parts.standards.threads.threads import thread

PARAMS = Path(parts.__file__).parents[1] / "params"
USUAL = settings(PrintFit())


@cache
def demo(name):
    return parts.load(next(PARAMS.glob(f"{name}*.yaml")))


@cache
def files(name):
    return print_files(SimpleNamespace(result=SimpleNamespace(part=demo(name), checks=())))


@cache
def first(name):
    part = demo(name)
    return printed(part, part.pieces[0], settings(part.print_fit))


def mesh(content):
    return trimesh.load(io.BytesIO(content), file_type="stl")


def block(*size):
    return cq.Workplane().box(*size, centered=False).val()


# --- whole prints ----------------------------------------------------------------------------------


@pytest.fixture(autouse=True)
def no_printer_of_ours(tmp_path, monkeypatch):
    """The file of a real printer must not decide a test."""
    monkeypatch.chdir(tmp_path)


@pytest.mark.slow
def test_the_stl_is_watertight_and_as_large_as_the_solid_enlarged():
    part = demo("hc-106")
    one = first("hc-106").prints[0]
    found = mesh(files("hc-106")[f"{part.name}-print.stl"])
    assert found.is_watertight and found.is_winding_consistent
    scale = 1.0 / (1.0 - 0.002)
    # Facets stand off round faces by 0.05 mm at most: the volume is right to that over the surface.
    assert abs(found.volume - scale**3 * one.marked.solid.Volume()) < 0.05 * found.area
    assert_allclose(one.volume, found.volume, rtol=1e-5)  # STL holds single precision
    assert found.bounds[0][2] == pytest.approx(0.0, abs=0.02)


def test_the_3mf_reads_back_elsewhere_in_millimetres():
    part = demo("hc-125")
    content = files("hc-125")[f"{part.name}-print.3mf"]
    path = Path("a.3mf")
    path.write_bytes(content)
    # The consortium's own reader, warnings and all.
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.ReadFromFile(str(path))
    assert reader.GetWarningCount() == 0 and model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    every = model.GetMeshObjects()
    assert every.Count() == 1 and every.MoveNext()
    one = every.GetCurrentMeshObject()
    assert one.IsManifoldAndOriented() and one.GetPartNumber() == part.name
    points = np.array([tuple(v.Coordinates) for v in one.GetVertices()])
    facets = np.array([tuple(t.Indices) for t in one.GetTriangleIndices()])
    stl = mesh(files("hc-125")[f"{part.name}-print.stl"])
    assert_allclose(trimesh.Trimesh(points, facets).volume, stl.volume, rtol=1e-4)
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert package.testzip() is None
        assert package.namelist()[0] == "[Content_Types].xml"
        model = ElementTree.fromstring(package.read("3D/3dmodel.model"))
    assert model.tag == f"{{{CORE}}}model" and model.get("unit") == "millimeter"
    (named,) = model.iter(f"{{{CORE}}}object")
    assert named.get("partnumber") == part.name
    (base,) = model.iter(f"{{{CORE}}}base")
    assert base.get("name") == "PLA"
    about = {m.get("name"): m.text for m in model.iter(f"{{{CORE}}}metadata")}
    assert "DO NOT RIDE" in about["Description"]


def test_the_sheet_says_how_it_is_printed_and_what_it_is_not():
    text = files("hc-125")["print.txt"].decode()
    assert text.startswith("FIT-UP ONLY - DO NOT RIDE")
    assert max(map(len, text.splitlines())) <= 100
    assert "clears M12" in text and "common practice" in text and "oneoff gauge" in text
    assert "a tag beside it" in text


@pytest.mark.slow
def test_the_same_part_gives_the_same_bytes():
    thing = Object(
        "a", "HC-199", np.eye(4, 3), np.array([(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)]), (0, 0)
    )
    assert threemf_bytes([thing], "PLA", {"Title": "<&>"}) == threemf_bytes(
        [thing], "PLA", {"Title": "<&>"}
    )
    part = demo("hc-109")
    again = print_files(SimpleNamespace(result=SimpleNamespace(part=part.model_copy(), checks=())))
    assert again == files("hc-109")


# --- the words on it -------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("name", [f"hc-10{i}" for i in range(1, 10)])
def test_every_demo_print_carries_its_words_on_a_face_or_a_tag(name):
    part = demo(name)
    for piece in part.pieces:
        made = printed(part, piece, settings(part.print_fit))
        for one in made.prints:
            _marked(one.marked, part.name)
            found = trimesh.Trimesh(one.points, one.facets)
            assert found.is_watertight and found.volume > 0.0


def test_a_flat_print_carries_its_words_on_a_face():
    made = first("hc-109")
    _marked(made.prints[0].marked, "HC-109")
    assert "face" in made.prints[0].marked.where
    assert made.stand.name in ("+z", "-z") or made.stand.contact > 4000


def _marked(marked, name):
    said = "".join(marked.label.lines).replace(" ", "").upper()
    assert "FIT-UPONLY-DONOTRIDE" in said and name.replace(" ", "").upper() in said
    assert marked.solid.isValid() and len(marked.solid.Solids()) == 1
    # A letter is some twelve strokes' units long: at this height and depth each takes at least this away.
    unit = marked.label.height / 6.0
    least = len(said) * 6.0 * unit * (6.0 / 7.0 * unit) * DEPTH
    assert marked.removed > least
    assert_allclose(marked.before.Volume() - marked.solid.Volume(), marked.removed)


def test_letters_take_away_just_their_grooves():
    made = engraved(block(80, 40, 6), "HC-199")
    assert made.where == "the face toward +z"
    # Strokes overlap where they meet: the sum of the single grooves is a little more than what is cut.
    from parts.making.lettering import strokes
    from parts.strength.section.properties import properties

    width = made.label.height / 7.0
    each = [
        float(properties(groove(s, width)).area)
        for s in strokes(made.label.lines, made.label.height)
    ]
    assert 0.8 * DEPTH * sum(each) < made.removed < (DEPTH + 0.033) * sum(each)


def test_what_has_no_face_gets_a_tag():
    pipe = cq.Workplane().circle(8).circle(6.5).extrude(60).val()
    made = engraved(pipe, "HC-199", "tube")
    assert made.where == "a tag beside it"
    assert len(made.solid.Solids()) == 1 and made.solid.isValid()
    assert made.before.Volume() > pipe.Volume() and made.removed > 10.0


# --- holes -----------------------------------------------------------------------------------------


def hole(diameter=10.0, axis=(0, 0, -1), **more):
    start = {(0, 0, -1): (20, 15, 12), (0, -1, 0): (20, 30, 6)}[axis]
    through = 12.0 if axis[2] else 30.0
    return Hole("h", start, axis, diameter, through=through, **more)


def test_a_hole_grows_by_the_allowance_and_no_more():
    bored = block(40, 30, 12).cut(cq.Solid.makeCylinder(5, 12, cq.Vector(20, 15, 0)))
    one = printed_hole(hole(), replace(USUAL, hole_allowance=0.4))
    grown = enlarged(bored, [one])
    assert_allclose(bored.Volume() - grown.Volume(), np.pi / 4 * (10.4**2 - 10**2) * 12, rtol=1e-9)
    assert one.roof is False


def test_a_hole_across_the_layers_gets_a_roof():
    bar = block(40, 30, 12).cut(
        cq.Solid.makeCylinder(2.5, 30, cq.Vector(20, 0, 6), cq.Vector(0, 1, 0))
    )
    one = printed_hole(hole(5.0, (0, -1, 0)), replace(USUAL, hole_allowance=0.0))
    assert one.roof
    r, h = 2.5, 2.5 * ROOF
    # Above the 45 degree tangents: a trapezium from r/sqrt 2 up to the flat, less the segment already open.
    wide, narrow = 2 * r / np.sqrt(2), 2 * (np.sqrt(2) * r - h)
    trapezium = (wide + narrow) / 2 * (h - r / np.sqrt(2))
    segment = r**2 / 2 * (np.pi / 2 - 1)
    extra = trapezium - segment
    # What of the circle rises past the flat sides is none: they are its tangents; past the top: none, h > r.
    assert_allclose(bar.Volume() - enlarged(bar, [one]).Volume(), extra * 30, rtol=1e-6)
    plain = printed_hole(hole(5.0, (0, -1, 0)), replace(USUAL, teardrop=False))
    assert not plain.roof


@pytest.mark.parametrize(
    "wish, base", [("clearance", 9.0), ("pilot", thread("M8").minor_internal), ("insert", 9.7)]
)
def test_tapped_holes_by_choice(wish, base):
    # ISO 273, medium: 9.0 mm for M8.
    tapped = hole(thread("M8").minor_internal, thread=thread("M8"))
    one = printed_hole(tapped, replace(USUAL, tapped=wish))
    assert_allclose(one.diameter, base + 0.3)


def test_an_insert_that_no_table_holds_is_cleared_and_said():
    tapped = hole(thread("M12").minor_internal, thread=thread("M12"))
    one = printed_hole(tapped, replace(USUAL, tapped="insert"))
    assert one.diameter == pytest.approx(13.5 + 0.3) and "no insert" in one.words


def test_a_counterbore_grows_too():
    sunk = block(40, 30, 12).cut(
        cq.Solid.makeCylinder(4, 12, cq.Vector(20, 15, 0)),
        cq.Solid.makeCylinder(7, 5, cq.Vector(20, 15, 7)),
    )
    one = printed_hole(hole(8.0, counterbore=(14.0, 5.0)), USUAL)
    lost = sunk.Volume() - enlarged(sunk, [one]).Volume()
    assert_allclose(lost, np.pi / 4 * ((8.3**2 - 64) * 7 + (14.3**2 - 196) * 5), rtol=1e-6)


def test_demo_holes_are_enlarged_in_the_print():
    made = first("hc-109")
    assert len(made.holes) >= 2
    here, _ = stood(made.piece.solid.val(), made.stand)
    assert enlarged(here, made.holes).Volume() < here.Volume() - 10.0


# --- how it stands ---------------------------------------------------------------------------------


def test_an_l_stands_so_that_nothing_hangs_over():
    ell = block(60, 30, 8).fuse(block(8, 30, 40)).clean()
    best = stands(ell, USUAL)[0]
    assert best.overhang == pytest.approx(0.0, abs=1e-9)
    over = {one.name: one.overhang for one in stands(ell, USUAL)}
    # Upside down the long leg, 52 x 30, hangs in the air.
    assert over["-z"] == pytest.approx(52 * 30)
    assert over["+z"] == 0.0


def test_a_slope_counts_where_it_leans_too_far():
    cone = cq.Solid.makeCone(5, 20, 15 * np.tan(np.radians(40)))  # leans 50 deg from upright
    (up,) = stands(cone, replace(USUAL, up="+z"))
    side = np.pi * 25 * np.hypot(15, 15 * np.tan(np.radians(40)))
    assert up.overhang == pytest.approx(side, rel=0.02)  # a mesh of 0.2 mm
    (steep,) = stands(cone, replace(USUAL, up="+z", overhang=np.radians(55)))
    assert steep.overhang == 0.0


def test_standing_moves_holes_along_and_puts_it_on_the_bed():
    bar = block(30, 20, 10).moved(cq.Location(cq.Vector(5, 6, 7)))
    (way,) = stands(bar, replace(USUAL, up="-x"))
    here, frame = stood(bar, way)
    low = here.BoundingBox()
    assert_allclose([low.xmin, low.ymin, low.zmin], 0.0, atol=1e-5)
    assert low.zlen == pytest.approx(30.0, abs=1e-5)
    (moved,) = frame.holes([Hole("h", (35, 16, 12), (-1, 0, 0), 4.0, through=30.0)])
    assert_allclose(moved.axis, (0, 0, 1), atol=1e-12)
    assert_allclose(moved.place[2], 0.0, atol=1e-9)


def test_a_long_part_is_turned_on_the_bed_before_it_is_split():
    (way,) = stands(block(250, 20, 10), replace(USUAL, up="+z"))
    assert 0.0 < way.turn(USUAL.bed) < np.pi / 2
    (far,) = stands(block(400, 20, 10), replace(USUAL, up="+z"))
    assert far.turn(USUAL.bed) is None


def test_the_foot_is_chamfered_once():
    box = block(40, 30, 20)
    made, words = relieved(box, 0.5)
    assert words == "0.5 mm"
    # A chamfer round a rectangle takes c^2/2 off the edge all along; at the corners two cuts share c^3/3.
    assert_allclose(box.Volume() - made.Volume(), 0.5**2 / 2 * 140 - 4 * 0.5**3 / 3, rtol=1e-6)
    broken = cq.Workplane(obj=box).faces("<Z").edges().chamfer(0.4).val()
    assert relieved(broken, 0.4) == (broken, "the part's own broken edges serve")
    ball = cq.Workplane().sphere(10).val().moved(cq.Location(cq.Vector(0, 0, 10)))
    assert "no flat" in relieved(ball, 0.4)[1]


# --- splitting -------------------------------------------------------------------------------------


@pytest.mark.parametrize("keys", ["dowel", "dovetail"])
@pytest.mark.parametrize(
    "size, bed", [((300, 30, 20), (150, 100, 100)), ((30, 20, 260), (150, 100, 150))]
)
def test_halves_rejoin_to_the_whole_less_the_clearance_of_their_keys(keys, size, bed):
    bar = block(*size)
    found = split(bar, [], replace(USUAL, keys=keys, bed=bed), False)
    assert len(found.halves) >= 2 and all(found.keys)
    together = sum(half.Volume() for half in found.halves)
    assert_allclose(together, bar.Volume() - found.clearance, rtol=1e-9)
    lost = 0.0
    for row in found.keys:
        for key in row:
            w, d, g = key.width, key.depth, USUAL.key_clearance
            if key.kind == "dowel":
                lost += np.pi / 4 * ((w + 2 * g) ** 2 * (d + g) - w**2 * d)
            else:
                k = np.tan(np.radians(15))
                side = g * np.hypot(1, k)
                wide = w + 2 * side
                deep = min(size[i] for i in range(3) if i != found.axis)
                lost += deep * ((wide + (d + g) * k) * (d + g) - (w + d * k) * d)
    assert_allclose(found.clearance, lost, rtol=1e-9)
    fused = found.halves[0].fuse(*found.halves[1:])
    assert_allclose(fused.Volume(), bar.Volume() - found.clearance, rtol=1e-9)
    for half in found.halves:
        assert half.isValid() and len(half.Solids()) == 1
        box = half.BoundingBox()
        assert box.xlen <= bed[0] + 1e-3 and box.zlen <= bed[2] + 1e-3


def test_planes_keep_off_the_holes():
    assert where(300.0, 160.0, []) == (150.0,)
    # Halves of 160 leave the plane 140 to 160 to lie in; the hole and 4 mm beside it take 141 to 154.
    assert where(300.0, 160.0, [(145.0, 150.0)]) == (154.5,)
    # Where no place is free the plane stays, and the sheet shows where.
    assert where(300.0, 160.0, [(0.0, 300.0)]) == (150.0,)
    three = where(300.0, 120.0, [])
    assert_allclose(three, (100.0, 200.0), atol=0.5)


def test_a_part_that_fits_stays_whole():
    bar = block(100, 20, 10)
    found = split(bar, [], USUAL, True)
    assert found.halves == (bar,) and found.clearance == 0.0


# --- what it is printed with -----------------------------------------------------------------------


def test_the_part_goes_before_the_printer_and_the_printer_before_practice():
    own, printer = PrintFit(hole_allowance=0.1), PrintFit(hole_allowance=0.2, tapped="pilot")
    made = settings(own, printer, "mine.yaml")
    assert (made.hole_allowance, made.tapped, made.deposition) == (0.1, "pilot", 8.0)
    assert made.origin["hole_allowance"] == "the part" and made.origin["tapped"] == "mine.yaml"
    assert made.shrink == shrinkage(material("PLA")) and made.scale == pytest.approx(1 / 0.998)


@pytest.mark.parametrize(
    "wrong, words",
    [
        ({"plastic": "6061-T6"}, "is not printed here; right are PLA"),
        ({"bed": ("8 in", "8 mm", "8 in")}, "at least 40 mm"),
        ({"hole_allowance": "3 mm"}, "off by more than 1.5 mm"),
    ],
)
def test_what_cannot_be_is_refused(wrong, words):
    with pytest.raises(ValueError, match=words):
        PrintFit.model_validate(wrong)


def test_tables_of_print():
    assert insert_hole("M5") == 6.4 and insert_hole("M12") is None
    assert 0.0 < shrinkage(material("PLA")) < shrinkage(material("ABS")) < 0.02
    with pytest.raises(ValueError, match="not printed from filament"):
        shrinkage(material("6061-T6"))


@pytest.mark.parametrize("contact, loose", [(0.0, True), (9.9, True), (12.0, False)])
def test_a_print_that_stands_on_no_flat_says_so(contact, loose):
    """A coped tube stands on two points of its notch."""
    stand = SimpleNamespace(name="-x", overhang=0.0, contact=contact)
    said = "\n".join(
        _piece(
            SimpleNamespace(piece=SimpleNamespace(name="tube"), stand=stand, turn=0.0, prints=()),
            USUAL,
        )
    )
    assert ("raft" in said) == loose
