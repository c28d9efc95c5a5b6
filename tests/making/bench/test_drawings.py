"""Drawings of every part: readable, true to the solid, and the same in PDF, SVG and DXF."""

import io
import re
import xml.etree.ElementTree as ElementTree
from functools import cache

import ezdxf
import numpy as np
import pytest
from ezdxf import recover
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from parts_drawn import NAMES, drawn_part, each_part, made
from pypdf import PdfReader

from parts.core.drawing import Callout
from parts.families import families
from parts.making.bench.dxf import dxf_bytes
from parts.making.bench.figures import Figures
from parts.making.bench.files import bench_files, sharp_solids, sheets
from parts.making.bench.ink import Letters
from parts.making.bench.legible import unreadable
from parts.making.bench.measured import SAME, measured
from parts.making.bench.pdf import pdf_bytes
from parts.making.bench.score import score
from parts.making.bench.svg import svg_bytes
from parts.making.bench.words import callout_words, dimension_words, hole_words
from parts.making.model import model

SLOW = pytest.mark.slow


@cache
def sheets_of(name):
    part = drawn_part(name)
    return list(sheets(part, made(name), sharp_solids(part)))


def drawn_as(**asked):
    """A small part with another drawing asked for, and its sheets; its solids are those that it has anyway."""
    name = next(one for one in NAMES if one.startswith("hc-126"))
    part = drawn_part(name)
    other = part.model_copy(update={"drawing": part.drawing.model_copy(update=asked)})
    return other, list(sheets(other, made(name), sharp_solids(part)))


def words_of(drawn, part):
    """Every line of text beside the views that states a dimension; of holes alike what follows their number."""
    figures = Figures(part.drawing.units)
    for one in drawn.marks.dimensions:
        yield from (
            callout_words(one, figures)
            if isinstance(one, Callout)
            else [dimension_words(one, figures)]
        )
    for hole in drawn.marks.holes:
        if not hole.noted:
            yield from hole_words(hole, 1, figures)


def stands(words, texts):
    """True where a line stands on a sheet, alone or behind the number of holes alike."""
    return any(text == words or text.endswith(f"× {words}") for text in texts)


@pytest.mark.parametrize("name", each_part())
def test_no_letters_lie_on_letters_or_lines(name):
    for _, sheet in sheets_of(name):
        assert unreadable(sheet.ink) == []


USUAL = 3.6
"""The worst score of a sheet that passes; without details HC-103 comes to 6.3."""


@pytest.mark.parametrize("name", each_part())
def test_the_layout_scores_as_well_as_it_did(name):
    """Crossings a dimension, a quarter of those of outlines, lengths of leaders in 40 mm, and the empty share."""
    for _, sheet in sheets_of(name):
        found = score(sheet.views, sheet.ink, sheet.paper.inside)
        assert found.total < USUAL, found
        assert min(one.height for one in sheet.ink if isinstance(one, Letters)) >= 2.5


@pytest.mark.parametrize("name", each_part())
def test_sheets_are_counted_with_their_pages(name):
    found = [sheet for _, sheet in sheets_of(name)]
    count, first = sum(1 + len(sheet.more) for sheet in found), 1
    for sheet in found:
        texts = [one.text for one in sheet.ink if isinstance(one, Letters)]
        assert f"{sheet.paper.name}  {first}/{count}" in texts
        first += 1 + len(sheet.more)


@pytest.mark.parametrize("name", each_part())
def test_everything_lies_on_the_paper(name):
    for _, sheet in sheets_of(name):
        for view in sheet.views:
            for ink in view:
                x, y, wide, high = sheet.paper.inside
                assert np.all(ink.path() >= np.array([x, y]))
                assert np.all(ink.path() <= np.array([x + wide, y + high]))


@pytest.mark.parametrize("name", each_part())
def test_each_dimension_is_measured_again_on_the_solid(name):
    part = drawn_part(name)
    solids = {piece.name: piece.solid.val() for piece in part.pieces}
    for drawn in part.drawn():
        found = measured(drawn.marks, solids[drawn.piece])
        assert len(found) >= len(drawn.marks.dimensions)
        for one in found:
            assert one.found == pytest.approx(one.stated, abs=SAME), one.name


@pytest.mark.parametrize("name", each_part())
def test_the_pdf_reads_back_with_every_dimension(name):
    part = drawn_part(name)
    for drawn, sheet in sheets_of(name):
        data = pdf_bytes([(sheet.paper.size, sheet.ink)], "drawing")
        page = PdfReader(io.BytesIO(data)).pages[0]
        text = page.extract_text()
        for words in words_of(drawn, part):
            assert words in text
        material = {piece.name: piece.material.name for piece in part.pieces}[drawn.piece]
        for words in (part.name, material, "revision", part.drawing.projection):
            assert words in text
        assert "qualified person" in text
        wide, high = (float(v) / 72.0 * 25.4 for v in page.mediabox[2:])
        assert (wide, high) == pytest.approx(sheet.paper.size, abs=0.01)


@pytest.mark.parametrize("name", each_part())
def test_the_dxf_passes_the_audit_and_holds_the_part_at_full_size(name):
    part = drawn_part(name)
    solids = sharp_solids(part)
    for drawn, sheet in sheets_of(name):
        document, auditor = recover.read(io.BytesIO(dxf_bytes(sheet.ink, sheet.scale)))
        assert not auditor.has_errors and not auditor.has_fixes
        assert document.units == ezdxf.units.MM
        texts = {one.dxf.text for one in document.modelspace().query("TEXT")}
        for words in words_of(drawn, part):
            assert stands(words, texts)
        # The first view alone, written at its scale: its outline is as large as the solid.
        view = [
            one for one in sheet.views[0] if one.layer == "outline" and not isinstance(one, Letters)
        ]
        # By the surfaces themselves: a solid that was once meshed has a box with the mesh's slack.
        box = Bnd_Box()
        BRepBndLib.AddOptimal_s(solids[drawn.piece].wrapped, box, False, False)
        low = np.min([ink.path().min(axis=0) for ink in view], axis=0) / sheet.scale
        high = np.max([ink.path().max(axis=0) for ink in view], axis=0) / sheet.scale
        corners = np.reshape(box.Get(), (2, 3))
        for axis, size in zip((drawn.right, drawn.up), high - low, strict=True):
            if max(np.abs(axis)) > 1.0 - 1e-9:
                # Arcs are taken in steps of 7.5 degrees, which lose up to 0.06 % of a radius at the side;
                # a cutting plane's ends stand outside the part.
                extent = abs(float((corners[1] - corners[0]) @ np.asarray(axis)))
                assert extent - 0.002 * extent - 1e-6 <= size
                assert size <= extent + 1e-6 or any(view.cut is not None for view in drawn.views)


@pytest.mark.parametrize("name", each_part())
def test_the_svg_is_well_formed_and_says_the_same(name):
    part = drawn_part(name)
    for drawn, sheet in sheets_of(name):
        root = ElementTree.fromstring(svg_bytes(sheet.paper.size, sheet.ink, "drawing"))
        texts = {one.text for one in root.iter("{http://www.w3.org/2000/svg}text")}
        for words in words_of(drawn, part):
            assert stands(words, texts)
        assert root.get("width") == f"{sheet.paper.size[0]:g}mm"


@pytest.mark.parametrize(
    ("family", "said"),
    [
        # ISO 286-2, H12: 100 micrometres up to 3 mm, 150 over 6 up to 10 mm.
        ("frame tab", "hole: Ø8.2 H12 through; +0.150 / 0."),
        pytest.param(
            "foot lever",
            "cross pin: Ø3 H12 × 20 deep; +0.100 / 0; drilled with the peg in its place.",
            marks=SLOW,
        ),
    ],
)
def test_a_hole_that_no_view_shows_round_is_stated_in_a_note(family, said):
    for data in families()[family].examples:
        part = families()[family].model_validate(dict(data))
        if any(hole.noted for drawn in part.drawn() for hole in drawn.marks.holes):
            break
    _, sheet = next(iter(sheets(part, model(part), sharp_solids(part))))
    text = " ".join(one.text for one in sheet.ink if isinstance(one, Letters))
    assert said in text


@pytest.mark.slow
def test_the_same_part_gives_the_same_bytes():
    name = next(name for name in NAMES if name.startswith("hc-107"))
    first, second = bench_files(made(name)), bench_files(made(name))
    assert list(first) == list(second)
    for file in first:
        assert first[file] == second[file], file
    assert any(file.endswith("-drawing.pdf") for file in first)


@pytest.mark.parametrize(
    "units",
    [
        pytest.param("mm", marks=SLOW),
        "in",
        pytest.param("both", marks=SLOW),
    ],
)
def test_units_are_those_asked_for(units):
    part, found = drawn_as(units=units)
    for drawn, sheet in found:
        texts = {one.text for one in sheet.ink if isinstance(one, Letters)}
        for words in words_of(drawn, part):
            assert stands(words, texts)
        bracketed = [text for text in texts if re.search(r"\[\d*\.\d{3}", text)]
        assert bool(bracketed) == (units == "both")


@pytest.mark.parametrize(
    ("sheet", "projection"),
    [("A3", "first angle"), pytest.param("A2", "third angle", marks=SLOW),
     pytest.param("letter", "first angle", marks=SLOW), ("tabloid", "third angle")],
)  # fmt: skip
def test_views_stand_where_the_projection_says(sheet, projection):
    _, [(drawn, found), *_] = drawn_as(sheet=sheet, projection=projection)
    assert found.paper.name == sheet
    middles = {
        view.side: np.mean([i.path().mean(axis=0) for i in ink if i.layer == "outline"], axis=0)
        for view, ink in zip(drawn.views, found.views, strict=True)
    }
    # ISO 128-3: in third angle the view from above stands above, in first angle below the front view.
    above = middles["top"][1] > middles["front"][1]
    assert above == (projection == "third angle")
    assert projection in {one.text for one in found.ink if isinstance(one, Letters)}
