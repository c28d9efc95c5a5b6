"""Joints at the limits of their sizes: each demo joint goes together, and one that does not is refused."""

import json
from importlib.resources import files

import jsonschema
import numpy as np
import pytest
from demo import FILES

import parts
from parts.core.clearances import Clearance, general, of_class, within
from parts.core.refusing import BrokenRules, joint_rules
from parts.families.clevis.family import Clevis
from parts.features.press.fit import plug_note
from parts.inputs.variants import with_values
from parts.report.document import part_entry
from parts.report.text import governing_sentences

BLADE = {"type": "blade", "thickness": "10 mm", "clearance": "0.3 mm", "end": "14 mm"}


@pytest.fixture(scope="module")
def demo():
    return {path.stem[:6].upper(): parts.load(path) for path in FILES}


def joints_of(part):
    return {one.joint: one for one in part.clearances()}


def clevis():
    data = {**Clevis.example, "ears": {**Clevis.example["ears"], "throat": BLADE}}
    return Clevis.model_validate(data)


def test_a_chain_as_worked_in_a_handbook():
    """Shigley, 10th edition, example 1-7: w = a - b - c - d = 0.005 in, off by 0.010 in, or 0.006 in statistically;
    from memory."""
    inch = 25.4
    a, b, c, d = (
        within(name, size * inch, off * inch, off * inch, "")
        for name, size, off in (("a", 1.750, 0.003), ("b", 0.750, 0.001), ("c", 0.120, 0.005), ("d", 0.875, 0.001))
    )  # fmt: skip
    gap = Clearance("gap", "", (a,), (b, c, d), "")
    assert (gap.least, gap.greatest) == pytest.approx((-0.005 * inch, 0.015 * inch))
    assert gap.usual == pytest.approx(((0.005 - 0.006) * inch, (0.005 + 0.006) * inch))


def test_the_stack_of_a_rod_end_goes_into_its_throat_at_the_limits(demo):
    """Throat 18.8 H11 (+0.130 / 0), ISO 286-2 at 18 to 30 mm; ball 12.7 less 0.127; spacers 3 h11 (0 / -0.060)."""
    stack = joints_of(demo["HC-101"])["ear: stack in the throat"]
    assert stack.least == pytest.approx(18.8 - 18.7)
    assert stack.greatest == pytest.approx(18.93 - (12.7 - 0.127) - 2 * 2.94)
    assert stack.greatest <= stack.loosest
    note = " ".join(demo["HC-101"].drawn()[0].marks.notes)
    assert "two spacers 2.94 to 3.00 mm long (h11)" in note


def test_a_throat_that_may_be_too_loose_for_its_ears_is_shimmed(demo):
    """0.477 against 4 F L²/(3 E t), F 979.1 and E 199 948 MPa, t 7: L 20 gives 0.373 mm, L 24 gives 0.537."""
    arm = demo["HC-103"]
    (said,) = (one for one in arm.cautions() if "Shim to 0.1 mm" in one)
    assert "leave 0.48 mm of side play" in said and "more than 0.37 mm" in said
    deeper = arm.changed({"end.ears.depth": "28 mm"})
    assert not any("Shim to" in one for one in deeper.cautions())
    # The verdict says so in its own words, on paper and in JSON.
    found = arm.check()
    words = "its throat is shimmed to 0.1 mm of side play, 0.48 mm at the limits of its sizes"
    assert found.ok and found.once == words and not deeper.check().once
    assert next(governing_sentences(found)).startswith(f"holds once {words}: ")
    assert part_entry(found)["once"] == words


def test_a_spigot_is_turned_to_the_bore_of_its_tube(demo):
    """Bore 16.56, spigot 16.46 h9 (0 / -0.043); of the mill 19.05 off by 0.13 less two walls 1.245, a tenth off."""
    plug = joints_of(demo["HC-102"])["end a: spigot in the tube"]
    assert (plug.least, plug.greatest) == pytest.approx((0.1, 0.143), abs=1e-6)
    note = plug_note("", 19.05, 1.2446, 16.4608)
    assert "16.18 to 16.94 mm" in note and "0.10 to 0.14 mm smaller" in note
    assert note in demo["HC-102"].drawn()[1].marks.notes


def test_every_joint_of_the_demo_goes_together_at_its_limits(demo):
    found = {name: part.clearances() for name, part in demo.items()}
    assert sum(map(len, found.values())) >= 20
    for joints in found.values():
        for one in joints:
            low, high = one.usual
            assert one.least <= low <= high <= one.greatest
            assert one.goes != "free" or one.least >= -1e-9, one.joint
            assert one.greatest <= one.loosest


def test_a_blade_with_less_play_than_its_own_tolerance_is_refused():
    """ISO 2768-m allows 6 to 30 mm a deviation of 0.2 mm: a blade of 10 mm may come out at 10.2."""
    just = clevis().changed({"ears.throat.clearance": "0.2 mm"})
    assert joints_of(just)["ear: stack in the throat"].least == pytest.approx(0.0)
    with pytest.raises(
        BrokenRules, match="at the limits of its sizes it does not go together"
    ) as refused:
        clevis().changed({"ears.throat.clearance": "0.1 mm"})
    (rule,) = refused.value.rules
    assert rule.field == "ears.throat.clearance"
    assert float(rule.limit) == pytest.approx(0.2, abs=2e-3)


def test_a_reamed_hole_tighter_than_its_pin_is_refused():
    """P7 at 6 to 10 mm is -9 to -24 µm: no pin f7 (-13 to -28 µm) is sure to go in."""
    with pytest.raises(BrokenRules, match="pin in the ears"):
        clevis().changed({"ears.pin.hole.fit": "P7"})


def test_a_drilled_hole_has_limits_that_let_its_pin_in(demo):
    """6.32 mm AN4 in 6.42 H12 (+0.150 / 0): a deviation of ISO 2768-m, 0.2 mm, would close it."""
    hole = demo["HC-107"].drawn()[0].marks.holes[0]
    assert hole.fit == "H12" and hole.limits[0] == pytest.approx(hole.diameter)
    assert hole.limits[1] - hole.limits[0] == pytest.approx(0.15)


def test_many_variants_are_held_to_the_same_joints():
    one = clevis()
    many = with_values(one, {"ears.throat.clearance": np.array([0.1, 0.2, 0.3])})
    tight = next(rule for rule in joint_rules(many) if rule.field == "ears.throat.clearance")
    assert list(tight.ok) == [False, True, True]


def test_bearings_sit_and_are_clamped_at_the_limits(demo):
    """Journal 15 h6 (0 / -11 µm) in a ring 15 (0 / -10 µm); rings 2 x 11 (0 / -0.12 each), spacer 4 h11 (0 / -0.075),
    journal 25.6 (0 / -0.1)."""
    joints = joints_of(demo["HC-105"])
    on = joints["pedal: bearings on the journal"]
    assert (on.least, on.greatest) == pytest.approx((-0.010, 0.011))
    clamped = joints["pedal: washer clamps the rings past the journal"]
    assert clamped.least == pytest.approx(21.76 + 3.925 - 25.6)
    assert clamped.greatest == pytest.approx(22 + 4 - 25.5)


def test_classes_and_lengths_broadcast():
    some = of_class("bore", "H7", np.array([10.0, 20.0]))
    assert some.most == pytest.approx([10.015, 20.021])
    assert general("blade", np.array([2.0, 10.0])).most == pytest.approx([2.1, 10.2])


def test_joints_are_in_the_report_and_on_the_page(demo):
    from parts.report.document import part_entry
    from parts.report.page.joints import joints_table

    entry = part_entry(demo["HC-101"].check())
    schema = json.loads(files("parts.report").joinpath("report.schema.json").read_text())
    jsonschema.Draft202012Validator({"$ref": "#/$defs/joint", "$defs": schema["$defs"]})
    assert [one["joint"] for one in entry["joints"]] == list(joints_of(demo["HC-101"]))
    page = str(joints_table(entry["joints"]))
    assert "ear: stack in the throat" in page and "0.477" in page
    many = str(joints_table([{"part": "HC-101", **one} for one in entry["joints"]]))
    assert many.count("HC-101") == len(entry["joints"])


def test_a_print_gives_every_mating_surface_the_allowance(demo):
    """Round holes grow by themselves; throats, spigots, flats and splines by what their joints state."""
    clevis, link, arm = (demo[name].eased(0.3) for name in ("HC-107", "HC-102", "HC-103"))
    blade = demo["HC-113"].rod.end.width
    # The clearance of the blade, and that of the print.
    assert clevis.ears.throat.width == pytest.approx(blade + 0.3 + 0.3)
    bore = link.body.size[0] - 2.0 * link.body.size[1]
    assert link.body.bung.plug(bore) == pytest.approx(bore - 0.1 - 0.3)
    spline, printed = demo["HC-103"].hub.bore.spline, arm.hub.bore.spline
    space, wider = (one.internal_space() for one in (spline, printed))
    on_pitch = [2.0 * one.flank.start * one.pitch_diameter / 2.0 for one in (spline, printed)]
    assert on_pitch[1] - on_pitch[0] == pytest.approx(0.3)
    assert printed.minor_internal - spline.minor_internal == pytest.approx(0.3)
    assert np.linalg.norm(wider.flank[0]) > np.linalg.norm(space.flank[0])


def test_a_spline_goes_into_its_hub_at_the_limits(demo):
    """Side fit, class 5: the effective space is never narrower than the effective tooth, both pi D / 2 N."""
    joint = joints_of(demo["HC-103"])["spline in the hub"]
    assert joint.least == pytest.approx(0.0, abs=1e-9)
    assert joint.filled[0].most == pytest.approx(np.pi * 28.575 / 108)
    assert 0.0 < joint.greatest < 0.2
