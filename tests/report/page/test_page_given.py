"""Dimensions as typed and as understood."""

import pytest
from parts_shown import FORK, fork

from parts.families.clevis.family import Clevis
from parts.inputs.document import parse_document
from parts.report.page.given import dimensions_of


@pytest.fixture(scope="module")
def dimensions():
    part, written = fork()
    return {one.field: one for one in dimensions_of(part, written)}


@pytest.mark.parametrize(
    ("field", "typed", "understood"),
    [
        ("ears.thickness", "1/4 in", "6.35 mm (0.25 in)"),  # 25.4/4
        ("ears.width", "20", "20 mm (0.7874 in)"),  # 20/25.4
        ("shank.engagement", "5/8 in", "15.875 mm (0.625 in)"),  # 25.4*5/8
        ("shank.thread", "7/16-20 UNF", "7/16-20 UNF"),
        ("material", "Ti-6Al-4V annealed", "Ti-6Al-4V annealed"),
        ("ears.pin.hole.fit", "H7", "H7"),
        ("edge_break", "0", "0 mm (0 in)"),
    ],
)
def test_what_was_typed_stands_beside_what_it_means(dimensions, field, typed, understood):
    one = dimensions[field]
    assert (one.given, one.resolved, one.stated) == (typed, understood, True)
    assert one.what


def test_what_was_left_out_has_its_default_and_says_so(dimensions):
    one = dimensions["shank.undercut"]
    assert (one.given, one.stated, one.resolved) == ("", False, "yes")
    assert dimensions["form"].resolved == "none"


def test_loads_and_names_have_their_own_places(dimensions):
    assert not {field.split("[")[0].split(".")[0] for field in dimensions} & {
        "loads",
        "name",
        "title",
        "outputs",
    }


def test_a_list_and_a_form_are_shown_as_they_were_written():
    text = FORK.replace("  width: 20\n", "  width: {of: HC-151, value: ears.width}\n")
    part, _ = fork()
    shown = {
        one.field: one.given for one in dimensions_of(part, parse_document(text.encode(), "x"))
    }
    assert shown["ears.width"] == "{of: HC-151, value: ears.width}"


def test_a_part_from_python_has_no_words_of_a_file():
    part, _ = fork()
    assert {one.given for one in dimensions_of(part, None)} == {""}


def test_several_places_are_said_one_by_one():
    data = {
        **Clevis.example,
        "shank": {
            "type": "pad", "width": 60, "height": 70, "thickness": 8,
            "at": [[-20, -25], [20, -25], [20, 25], [-20, 25]], "bolts": {"bolt": "M6x20 8.8"},
        },
    }  # fmt: skip
    (one,) = [d for d in dimensions_of(Clevis.model_validate(data), None) if d.field == "shank.at"]
    corners = one.resolved.split("; ")
    assert len(corners) == 4
    assert corners[0] == "-20 mm (-0.7874 in), -25 mm (-0.9843 in)"  # 20/25.4, 25/25.4
