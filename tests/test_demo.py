"""The demo build, made whole: every file read back elsewhere, and check and make held against each other."""

import json
from functools import cache

import cadquery as cq
import gmsh
import numpy as np
import pytest
import trimesh
from demo import FILES, stems
from numpy.testing import assert_allclose

import parts
from parts.families import families
from parts.folders.part_files import make_part
from parts.making.model import NUDGE, MakeError, difference_between, model
from parts.report.starter import starter
from parts.shapes.cut import contour, cut
from parts.strength.section.properties import properties

AGREED = 0.02
"""Factors from the outline against those from the cut [-]: the band of edge breaks, and the quicker solution."""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Gives a demo part by its stem, made once without pictures and page: the part, what was made, its folder."""
    folder = tmp_path_factory.mktemp("outputs")
    files = {file.stem: file for file in FILES}

    @cache
    def make(stem):
        part = parts.load(files[stem]).model_copy(update={"outputs": ["step", "stl", "report"]})
        return part, make_part(part, folder), folder / part.name

    return make


def volumes_by_gmsh(path):
    """Volumes and moments of inertia of the solids of a STEP file, by an independent path."""
    gmsh.initialize()
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setString("Geometry.OCCTargetUnit", "MM")
        solids = [s for s in gmsh.model.occ.importShapes(str(path)) if s[0] == 3]
        return [gmsh.model.occ.getMass(*s) for s in solids]
    finally:
        gmsh.finalize()


def test_there_are_eight_parts_of_six_families_or_more():
    assert len(FILES) >= 8
    found = {parts.load(file).family for file in FILES}
    assert len(found) >= 6 and found <= set(families())


@pytest.mark.parametrize("stem", stems())
def test_every_step_reads_back_as_one_valid_solid_a_piece(made, stem):
    part, what, folder = made(stem)
    whole = folder / f"{part.name}.step"
    # Its quadrature is out by up to 1e-4 at a cope, whose volume the tests of coped tubes hold against an integral.
    close = 2e-4 if part.family == "coped tube" else 1e-6
    assert_allclose(sorted(volumes_by_gmsh(whole)), sorted(what.volume.values()), rtol=close)
    shapes = cq.importers.importStep(str(whole)).solids().vals()
    assert len(shapes) == len(part.pieces) and all(shape.isValid() for shape in shapes)
    read, own = (
        cq.Shape.centerOfMass(cq.Compound.makeCompound(solids)).toTuple()
        for solids in (shapes, [piece.solid.val() for piece in part.pieces])
    )
    assert_allclose(read, own, atol=1e-4)  # millimetres: another unit would move it far
    for piece in part.pieces if len(part.pieces) > 1 else ():
        one = folder / f"{part.name}-{piece.name}.step"
        assert_allclose(volumes_by_gmsh(one), [what.volume[piece.name]], rtol=1e-6)


@pytest.mark.parametrize("stem", stems())
def test_every_stl_is_watertight_and_holds_the_volume(made, stem):
    part, what, folder = made(stem)
    for piece in part.pieces:
        name = part.name if len(part.pieces) == 1 else f"{part.name}-{piece.name}"
        mesh = trimesh.load(folder / f"{name}.stl")
        assert mesh.is_watertight and mesh.is_winding_consistent
        # No facet lies farther than the chord, 0.05 mm, from its face: the shell between is thinner.
        assert abs(mesh.volume - what.volume[piece.name]) <= 0.05 * piece.solid.val().Area()


@pytest.mark.parametrize("stem", stems())
def test_the_solid_is_the_part_that_was_checked(made, stem):
    part, what, _ = made(stem)
    assert what.cuts and all(held.difference <= held.band for held in what.cuts)
    before = {(c.name, c.load_case): float(c.factor) for c in part.check().checks}
    after = {(c.name, c.load_case): float(c.factor) for c in what.result.checks}
    assert before.keys() == after.keys()
    for key, factor in after.items():
        assert_allclose(before[key], factor, rtol=AGREED, err_msg=str(key))


@pytest.mark.parametrize("stem", stems())
def test_the_report_says_what_was_found(made, stem):
    _, what, folder = made(stem)
    [entry] = json.loads((folder / "report.json").read_text())["parts"]
    assert entry["ok"] and entry["mass_kg"] == pytest.approx(what.mass, abs=1e-9)
    assert entry["sections"] and all(s["from"] == "cut from the solid" for s in entry["sections"])
    text = (folder / "report.txt").read_text()
    assert max(map(len, text.splitlines())) <= 100
    assert text.splitlines()[1].startswith(("holds: ", "holds once its throat is shimmed"))


def test_mass_is_volume_times_density(made):
    _, what, _ = made("hc-101-seat-strut-clevis")
    # Ti-6Al-4V: 0.160 lb/in^3 = 4.43 g/cm^3, MIL-HDBK-5J table 5.4.1.0(b).
    assert what.mass == pytest.approx(sum(what.volume.values()) * 4.43e-6, rel=2e-3)


def test_moving_one_mount_hole_forms_the_bracket_anew(tmp_path):
    """Ten millimetres on one mount in the YAML: another outline, every rule and check again."""
    text = starter(families()["foot-control bracket"])
    assert text.count("at: [75 mm, 10 mm]") == 1
    volumes = []
    for name, content in (("old", text), ("new", text.replace("[75 mm, 10 mm]", "[85 mm, 10 mm]"))):
        file = tmp_path / f"{name}.yaml"
        file.write_text(content)
        found = model(parts.load(file))
        assert found.result.ok and all(held.difference <= held.band for held in found.cuts)
        volumes.append(sum(found.volume.values()))
    assert volumes[1] > 1.005 * volumes[0]


def test_a_solid_that_is_not_the_checked_part_is_refused(made, monkeypatch):
    part, _, _ = made("hc-101-seat-strut-clevis")
    wrong = part.model_copy(update={"material": part.material})
    [piece] = part.pieces
    thinner = piece.solid.cut(cq.Workplane().box(200, 200, 200).translate((0, 0, 100 + 3)))
    monkeypatch.setattr(
        type(wrong), "build", lambda self: [type(piece)("part", piece.material, thinner)]
    )
    with pytest.raises(MakeError, match=r"differs from the section that was checked|no section"):
        model(wrong)


def test_sharp_parts_agree_along_the_whole_load_path():
    """With nothing softened, outline and cut differ by rounding alone."""
    source = next(f for f in FILES if "hc-101" in f.stem)
    part = parts.load(source).model_copy(update={"edge_break": 0.0})
    [piece] = part.pieces
    for span in part.spans():
        for t in (NUDGE, 0.5, 1.0 - NUDGE):
            expected = properties(span.outline(np.asarray(t)))
            low = (expected.y + expected.y_min, expected.z + expected.z_min)
            high = (expected.y + expected.y_max, expected.z + expected.z_max)
            found = properties(contour(cut(piece.solid, span.place(t), span.axes), low, high))
            assert difference_between(found, expected) <= 1e-6, (span.name, t)
