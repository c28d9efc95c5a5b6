"""The page of a part: everything on it, sound markup, nothing fetched, the same bytes on every run."""

import base64
import re
from dataclasses import replace
from itertools import pairwise

import pytest
from pages import read, runs_only_what_it_states
from parts_shown import FORK, fork, fork_shown

from parts.core.cautions import CAUTIONS
from parts.core.check import use_of
from parts.core.figures import figure
from parts.folders.part_files import Order, Outputs, make_part, shown
from parts.making.model import model
from parts.report.page.files import addressed
from parts.report.page.part import part_page

FOLDS = (
    "drawing", "dimensions", "facts", "loads", "checks", "section", "load-path", "ways", "joints", "hardware", "files",
    "pictures", "cautions", "not-covered",
)  # fmt: skip


@pytest.fixture(scope="module")
def content():
    return part_page(fork_shown())


@pytest.fixture(scope="module")
def page(content):
    return read(content)


def folds(page):
    return [one for one in page.all("details") if one.attributes.get("class") == "fold"]


def test_everything_else_folds_and_says_in_a_line_whether_to_unfold_it(page):
    assert [one.attributes["id"] for one in folds(page)] == list(FOLDS)
    for one in folds(page):
        assert "open" not in one.attributes
        (title,), (said,) = one.all("summary")[0].all("h2"), one.all("summary")[0].all("span")
        assert title.text and said.text


def test_the_first_screen_says_what_leaves_least_and_what_goes_to_whom(page):
    checks = sorted(fork_shown().made.result.checks, key=use_of, reverse=True)
    names = list(dict.fromkeys(one.name for one in checks))[:3]
    (least,) = [one for one in page.all("ol") if one.attributes.get("class") == "least"]
    assert [one.text for one in least.all("b")] == names
    assert all(page.by_id(a.attributes["href"][1:]).name == "details" for a in least.all("a"))
    assert f"{figure(checks[0].factor)} of {figure(checks[0].required)}" in least.all("li")[0].text
    (sent,) = page.all("nav")
    cards = {a.all("b")[0].text: a.attributes["href"] for a in sent.all("a")}
    assert cards == {
        "CNC shop": "HC-150.step",
        "3D printer": "HC-150.stl",
        "Supplier": "bought.csv",
        "Reviewer": "report.txt",
    }


def test_what_a_user_typed_is_text(page, content):
    assert page.all("h1")[0].text == 'HC-150 <script>alert(1)</script> & "fork"'
    assert page.all("title")[0].text == page.all("h1")[0].text
    assert b"<script>alert" not in content and b"<b>rebound" not in content


def test_it_fetches_nothing(page):
    for one in page.walk():
        for name in ("src", "href", "action", "data", "poster"):
            address = one.attributes.get(name, "#")
            assert address.startswith(("#", "data:")) or re.fullmatch(r"[\w.-]+", address), address
    runs_only_what_it_states(page)


def test_headings_descend_one_step_at_a_time(page):
    levels = [int(one.name[1]) for one in page.all("h1", "h2", "h3", "h4", "h5", "h6")]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_it_can_be_read_without_seeing_it(page):
    assert page.all("html")[0].attributes["lang"] == "en"
    for name in ("header", "nav", "main", "footer"):
        assert len(page.all(name)) == 1
    ids = [one.attributes["id"] for one in page.walk() if one.attributes.get("id")]
    assert len(ids) == len(set(ids))
    for one in page.walk():
        for name in ("aria-labelledby", "aria-describedby"):
            assert set(one.attributes.get(name, "").split()) <= set(ids)
        if one.attributes.get("href", "").startswith("#"):
            assert one.attributes["href"][1:] in ids
    assert all(one.attributes.get("alt") for one in page.all("img"))
    for svg in page.all("svg"):
        titled = svg.attributes.get("role") == "img" and svg.all("title") and svg.all("desc")
        assert titled or svg.attributes.get("aria-hidden") == "true"
    for table in page.all("table"):
        assert table.all("caption")[0].text
        assert all(th.attributes["scope"] in ("row", "col") for th in table.all("th"))
    for button in page.all("button"):
        assert button.text and button.attributes["type"] == "button"
    (canvas,) = page.all("canvas")
    assert "arrow keys" in canvas.attributes["aria-label"] and canvas.attributes["tabindex"] == "0"


def test_checks_are_all_there_each_with_its_sheet(page):
    checks = fork_shown().made.result.checks
    sheets = [
        one for one in page.all("details") if one.attributes.get("class") in ("check", "sheet")
    ]
    assert [one.attributes["id"] for one in sheets] == [
        f"check-{i + 1}" for i in range(len(checks))
    ]
    named = [one for one in sheets if one.attributes["class"] == "check"]
    names = [one.all("b")[0].text for one in named]
    assert sorted(names) == sorted({one.name for one in checks})
    governing = fork_shown().made.result.governing
    assert (
        names[0] == governing.name and figure(governing.factor) in named[0].all("summary")[0].text
    )
    for one, name in zip(named, names, strict=True):
        inside = [s for s in one.all("details") if s.attributes["class"] == "sheet"]
        assert len(inside) + 1 == sum(check.name == name for check in checks)
    sheet = named[names.index("ear pin, shear")].text
    assert "formula" not in sheet and "source" in sheet and "result" in sheet and "meaning" in sheet


def test_verdicts_say_so_in_words():
    heavy = FORK.replace("x: -2550 N", "x: -90 kN")
    part, written = fork(heavy)
    outputs = Outputs(model(part), Order(written=written))
    found = read(part_page(shown(outputs, {})))
    assert "✗ FALLS SHORT" in found.all("header")[0].text
    verdicts = {one.text for one in found.by_id("checks").all("span") if one.text[:1] in "✗✓"}
    assert {"✗ FALLS SHORT", "✓ holds"} <= verdicts


def test_sections_state_what_the_cut_measures(page):
    (first, *_) = fork_shown().made.cuts
    rows = {row[0]: row for row in page.by_id("section").all("table")[0].rows()[1:]}
    areas = {figure(cut.section.area) for cut in fork_shown().made.cuts}
    assert rows["area"][1] == "A" and rows["area"][2] in areas and rows["area"][3] == "mm²"
    assert first.difference < 1e-6  # sharp: the fork has no edge breaks and no fillets


def test_loads_name_point_and_forces(page):
    rows = page.by_id("loads").all("table")[0].rows()
    # 350 lbf: 4.4482216152605 N each, by NIST SP 811 appendix B.
    assert rows[1][:5] == ["1 landing", "pin (0, 0, 0)", "-2550", "150", "0"]
    assert rows[2][2] == figure(350 * 4.4482216152605) and rows[2][8] == "rare peak"


def test_cautions_and_what_is_not_covered_stand_on_it(page):
    said = [li.text for li in page.by_id("cautions").all("li")]
    assert set(CAUTIONS) < set(said) and any("itanium" in one for one in said)
    assert [li.text for li in page.by_id("not-covered").all("li")] == fork_shown().entry[
        "not_covered"
    ]


def test_files_say_to_whom_they_go(page):
    rows = {row[0]: row[1:] for row in page.by_id("files").all("table")[0].rows()[1:]}
    assert set(rows) == set(fork_shown().files)
    assert rows["HC-150.step"][0] == "CNC shop"
    assert "never ridden" in rows["HC-150.stl"][1]
    assert addressed(["a.xyz", "HC-1-flat.dxf", "HC-1-drawing.dxf"]) == [
        (
            "HC-1-drawing.dxf",
            "machinist, welder",
            "the same drawing at full size, for a drawing program",
        ),
        ("HC-1-flat.dxf", "water or laser cutter", "the flat blank, one to one in mm"),
        ("a.xyz", "yourself", ""),
    ]


def test_a_drawing_is_shown_where_one_was_made(page):
    assert "oneoff make --for bench" in page.by_id("drawing").text
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg"><title>x</title></svg>'
    with_it = replace(fork_shown(), files={**fork_shown().files, "HC-150-drawing.svg": drawing})
    (image,) = read(part_page(with_it)).by_id("drawing").all("img")
    kind, _, data = image.attributes["src"].partition(";base64,")
    assert kind == "data:image/svg+xml" and base64.b64decode(data) == drawing


def test_a_part_without_loads_says_that_nothing_was_checked():
    part, written = fork(FORK[: FORK.index("loads:")])
    found = read(part_page(shown(Outputs(model(part), Order(written=written)), {})))
    assert "nothing was checked" in found.all("header")[0].text
    assert "holds" not in found.all("header")[0].text
    assert "section" not in [one.attributes["id"] for one in folds(found)]


@pytest.mark.slow
def test_make_writes_pictures_and_page_the_same_on_every_run(tmp_path):
    part, written = fork()
    contents = []
    for folder in ("one", "two"):
        made = make_part(fork()[0], tmp_path / folder, written=written)
        assert {"picture.png", "picture-behind.png", "index.html"} <= {f.name for f in made.files}
        contents.append((tmp_path / folder / part.name / "index.html").read_bytes())
    assert contents[0] == contents[1]
    pictures = [img.attributes["src"] for img in read(contents[0]).by_id("pictures").all("img")]
    for name, src in zip(("picture.png", "picture-behind.png"), pictures, strict=True):
        png = (tmp_path / "one" / part.name / name).read_bytes()
        assert png[:8] == b"\x89PNG\r\n\x1a\n" and base64.b64decode(src.partition(",")[2]) == png


def test_outputs_that_are_not_asked_for_are_not_written(tmp_path):
    part, _ = fork(FORK + "outputs: [step]\n")
    assert [f.name for f in make_part(part, tmp_path).files] == ["HC-150.step"]
