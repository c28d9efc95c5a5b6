"""The adjustable link: every option built and held against its outlines, its lengths, rules and checks."""

from functools import partial

import numpy as np
import pytest
from by_turns import by_turns
from hypothesis import given
from hypothesis import strategies as st
from links import (
    BUNG,
    CLEVIS,
    LEFT,
    LINKS,
    NECKED,
    RIGHT,
    SHORT_RANGE,
    assert_sound_and_checked,
    case_of,
    cases,
    link,
    stated,
    tube,
)
from pydantic import ValidationError
from stated import is_sound, same_one_at_a_time, worst_difference

from parts.families.links.adjustable_link import AdjustableLink
from parts.making.model import SHARP, SOFTENED, model

EXACT = 1e-9
"""Closed forms against the same floating-point arithmetic: rounding only."""
CUT = 1e-6
"""Dimensions read off the solid: the kernel's own tolerance is 1e-7."""
INCH = 25.4
PITCH = INCH / 24.0
MAJOR = 0.375 * INCH
PULL = ("end b", (4000.0, 0.0, 0.0))
PUSH = ("end b", (-4000.0, 0.0, 0.0))


# ---- the solids ---------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", by_turns(LINKS, of=5))
def test_every_kind_is_the_part_that_is_checked(kind):
    part = link(**LINKS[kind])
    assert is_sound(part)
    assert worst_difference(part, (0.9,)) < SOFTENED


@pytest.mark.parametrize(
    "kind",
    ["flats on the shoulder", *(pytest.param(k, marks=pytest.mark.slow) for k in [*LINKS][1:])],
)
def test_every_kind_is_made(kind):
    assert all(cut.difference < SOFTENED for cut in model(link(**LINKS[kind])).cuts)


@pytest.mark.parametrize("kind", by_turns(LINKS, 1, of=5))
def test_sharp_kinds_equal_their_outlines_along_the_whole_path(kind):
    part = link(edge_break="0 mm", **LINKS[kind])
    assert not part.softened
    assert is_sound(part)
    assert worst_difference(part, (0.0005, 0.99)) < SHARP


@pytest.mark.parametrize("word", by_turns(["minimum", "nominal", "maximum"], of=3))
def test_pins_stand_apart_by_the_length_asked_for(word):
    length = SHORT_RANGE[word]
    part = link(length=length, end_a=CLEVIS, end_b=NECKED, pin_to_pin=SHORT_RANGE)
    bores = []
    for piece in part.pieces:
        if piece.name.startswith("clevis"):
            ears = [
                face.Center().x
                for face in piece.solid.faces("%CYLINDER").vals()
                if abs(face.Center().z) > 3.0
                and abs(face.geomType() == "CYLINDER")
                and _along_z(face)
            ]
            bores.append(np.mean(ears))
    wanted = float(length.split()[0])
    assert max(bores) - min(bores) == pytest.approx(wanted, abs=CUT)
    assert part.points()["end b"][0] - part.points()["end a"][0] == pytest.approx(wanted, rel=EXACT)
    assert max(bores) == pytest.approx(wanted / 2.0, abs=CUT)


def _along_z(face):
    box = face.BoundingBox()
    # The pin's bore is as broad in x as in y and lies about the pin's axis.
    return abs((box.xmax - box.xmin) - 8.0) < 0.1 and abs((box.ymax - box.ymin) - 8.0) < 0.1


@pytest.mark.parametrize("word", ["minimum", "nominal", "maximum"])
def test_rod_ends_reach_from_the_faces_to_the_pins_at_every_length(word):
    part = link()
    length = getattr(part.pin_to_pin, word)
    part = link(length=f"{length} mm")
    boxes = {piece.name: piece.solid.val().BoundingBox() for piece in part.pieces}
    faces = (boxes["bung-a"].xmin, boxes["bung-b"].xmax)
    # The shank's 1.938 in less what is inside the bung stands between pin and face.
    outside = [1.938 * INCH - part.link.entry(i, length) for i in (0, 1)]
    assert faces[0] - outside[0] == pytest.approx(-length / 2.0, abs=CUT)
    assert faces[1] + outside[1] == pytest.approx(length / 2.0, abs=CUT)


def test_the_tube_is_cut_to_leave_both_root_gaps():
    part = link()
    boxes = {piece.name: piece.solid.val().BoundingBox() for piece in part.pieces}
    tube_ = boxes["tube"]
    assert tube_.xlen == pytest.approx(part.facts()["tube, cut length"][0], abs=CUT)
    shoulder_ends = boxes["bung-a"].xmin + 26.0, boxes["bung-b"].xmax - 26.0
    assert tube_.xmin - shoulder_ends[0] == pytest.approx(1.0, abs=CUT)
    assert shoulder_ends[1] - tube_.xmax == pytest.approx(1.0, abs=CUT)


def test_a_moved_dimension_forms_the_part_again():
    part, longer = (
        link(),
        link(
            pin_to_pin__maximum="332 mm", pin_to_pin__minimum="320 mm", pin_to_pin__nominal="326 mm"
        ),
    )
    assert longer.facts()["tube, cut length"][0] - part.facts()["tube, cut length"][
        0
    ] == pytest.approx(4.0)
    assert (
        longer.pieces[0].solid.val().BoundingBox().xlen
        > part.pieces[0].solid.val().BoundingBox().xlen
    )


def test_the_witness_hole_is_where_the_facts_say():
    part = link(edge_break="0 mm")
    piece = next(p for p in part.pieces if p.name == "bung-a")
    holes = [f.Center().x for f in piece.solid.faces("%CYLINDER").vals() if _is_drilled_along_y(f)]
    face = piece.solid.val().BoundingBox().xmin
    at = part.facts()["witness hole a, from the face to its middle"][0]
    # The kernel integrates the centre of a face that meets a curved one to about 1e-5.
    assert np.mean(holes) - face == pytest.approx(at, abs=1e-4)


def test_the_tube_is_drilled_at_end_b_too():
    """Sizes at which a tool turned end for end cut nothing."""
    body = tube(
        bore="closed", shoulder="30 mm", spigot="16 mm", diameter="28 mm", weld_prep="0.6 mm",
        wrench={"type": "hex", "across_flats": "24 mm", "length": "12 mm"},
        weld={"type": "fillet", "leg": "2.2 mm", "filler": "ER70S-2"},
    )  # fmt: skip
    body["bung_b"] = {
        "shoulder": "10 mm", "spigot": "34 mm", "diameter": "28 mm", "weld_prep": "0.6 mm",
        "wrench": {"type": "plain"}, "witness_in": "spigot",
    }  # fmt: skip
    lengths = {"minimum": "398 mm", "nominal": "400 mm", "maximum": "402 mm"}
    ends = {"end_a": {**LEFT, "spacer": "1 mm"}, "end_b": {**RIGHT, "spacer": "1 mm"}}
    part = link(body=body, pin_to_pin=lengths, engagement="14 mm", **ends)
    (piece,) = [p for p in part.pieces if p.name == "tube"]
    (hole,) = [f for f in piece.solid.faces("%CYLINDER").vals() if _is_drilled_along_y(f)]
    face = part.link.face(part.assembled) + part.link.body
    at = part.facts()["witness hole b, from the face to its middle"][0]
    assert face - hole.Center().x == pytest.approx(at, abs=1e-4)


def test_a_clevis_in_no_size_of_its_material_is_a_fault_of_the_file():
    data = stated(AdjustableLink, end_a={**CLEVIS, "material": "4130 Q&T 125 ksi"})
    with pytest.raises(ValueError, match="no row holds for that thickness"):
        AdjustableLink.model_validate(data)


@pytest.mark.parametrize(("hole", "wire", "measure"), [("2 mm", True, False), (None, False, True)])
def test_what_shows_that_a_shank_is_deep_enough(hole, wire, measure):
    said = " ".join(link(body=tube(witness_hole=hole, thread_depth="25 mm")).cautions())
    assert ("wire pushed into each witness hole" in said) is wire
    assert ("no witness hole" in said) is measure


def _is_drilled_along_y(face):
    box = face.BoundingBox()
    return abs(box.xlen - 2.0) < 1e-3 and abs(box.zlen - 2.0) < 1e-3


# ---- lengths and engagement ---------------------------------------------------------------------


def test_a_turn_changes_the_length_by_the_sum_of_the_pitches_of_opposite_hands():
    assert link().facts()["change in length per turn of the body"][0] == pytest.approx(2.0 * PITCH)


def test_two_threads_of_one_hand_change_by_half_turns_of_an_end_taken_off():
    facts = link(end_b=RIGHT).facts()
    assert facts["change in length per turn of the body in place"][0] == 0.0
    assert facts["least step, half a turn of end a off its pin"][0] == pytest.approx(PITCH / 2.0)
    assert "comes off its pin" in " ".join(link(end_b=RIGHT).cautions())


def test_engagement_at_both_extremes_by_arithmetic():
    part = link()
    lost = (MAJOR - (MAJOR - 5.0 / 8.0 * np.sqrt(3.0) * PITCH)) / 2.0 + 0.4 + PITCH
    # Body so long that at 328 mm each tip lies 13 mm, what holds by no full thread, and the witness hole deep.
    entry = 13.0 + lost + 2.0
    assert part.link.body == pytest.approx(328.0 - 2.0 * (1.938 * INCH - entry), rel=EXACT)
    facts = part.facts()
    assert facts["engagement of end a at the longest"][0] == pytest.approx(13.0 + 2.0)
    # 14 mm shorter, 7 mm deeper at each end; the hole's full thread ends 2 pitches past the witness hole.
    assert facts["engagement of end a at the shortest"][0] == pytest.approx(
        min(13.0 + 2.0 + 7.0, 13.0 + 2.0 + 2.0 * PITCH)
    )
    assert part.link.entry(0, 314.0) == pytest.approx(entry + 7.0)


def test_at_the_near_edge_of_the_witness_hole_just_the_asked_thread_is_engaged():
    part = link()
    near_edge = part.link.witness_at(0) - 1.0
    countersink = part.link.mouths[0].countersink
    assert near_edge - PITCH - countersink == pytest.approx(13.0)


def test_unlike_pitches_share_a_change_by_their_pitches():
    part = link(end_b={"type": "rod end", "rod_end": "M10 male LH"}, engagement="14 mm",
                pin_to_pin={"minimum": "320 mm", "nominal": "322 mm", "maximum": "324 mm"})  # fmt: skip
    deeper = [part.link.entry(i, 320.0) - part.link.entry(i, 324.0) for i in (0, 1)]
    assert deeper[0] / deeper[1] == pytest.approx(PITCH / 1.5)
    assert sum(deeper) == pytest.approx(4.0)


# ---- variants -----------------------------------------------------------------------------------

SWEEP = {
    "pin_to_pin.maximum": np.array([327.0, 328.0, 330.0]),
    "engagement": np.array([12.0, 13.0, 14.0]),
    "eccentricity": np.array([0.2, 0.5, 1.0]),
}


def test_variants_are_ruled_and_checked_as_one_at_a_time():
    part = link()
    same_one_at_a_time(part, SWEEP, case_of(PUSH, ("middle", (0.0, 100.0, 0.0))), rel=1e-6)


mm = partial(st.floats, allow_nan=False, allow_infinity=False)


def _built(draw_maximum, span, engagement, shoulder, spigot, edge):
    try:
        return link(
            edge_break=f"{edge} mm", engagement=f"{engagement} mm",
            pin_to_pin={"minimum": f"{draw_maximum - span} mm", "nominal": f"{draw_maximum - span / 2} mm",
                        "maximum": f"{draw_maximum} mm"},
            body=tube(shoulder=f"{shoulder} mm", spigot=f"{spigot} mm"),
        )  # fmt: skip
    except ValidationError:
        return None


RANGES = {
    "draw_maximum": mm(170.0, 500.0),
    "span": mm(0.0, 16.0),
    "engagement": mm(9.6, 16.0),
    "shoulder": mm(20.0, 40.0),
    "spigot": mm(5.0, 40.0),
    "edge": st.sampled_from([0.0, 0.2, 0.6, 1.0]),
}


@cases(2)
@given(**RANGES)
def test_whatever_meets_the_rules_is_sound_and_is_what_is_checked(**sizes):
    assert_sound_and_checked(_built(**sizes), (0.05, 0.9))


@pytest.mark.slow
@cases(60)
@given(**RANGES)
def test_many_that_meet_the_rules_are_sound(**sizes):
    assert_sound_and_checked(_built(**sizes), (0.0005, 0.5, 0.9995))


def test_bought_hardware_is_named():
    names = [one.designation for one in link(end_a={**RIGHT, "spacer": "3 mm"}).bought()]
    assert "rod end 3/8-24 male RH" in names and "jam nut 3/8-24 UNF-LH" in names
    assert any(name.startswith("spacer") for name in names)
    assert LEFT["rod_end"].split()[0] in names[-1] and BUNG["spigot"] == "14 mm"
