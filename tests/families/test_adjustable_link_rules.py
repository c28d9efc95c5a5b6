"""The adjustable link: what it refuses, and what it says then."""

import pytest
from links import CLEVIS, LINKS, RIGHT, SHORT_RANGE, link, tube
from pydantic import ValidationError

from parts.families.links.adjustable_link import AdjustableLink
from parts.inputs.problems import InputError
from parts.inputs.reading import file_schema, read_text

INCH = 25.4
PITCH = INCH / 24.0


# ---- rules --------------------------------------------------------------------------------------

PLAIN = {"type": "plain"}
BAR = LINKS["round bar with wrench flats"]
HEX = LINKS["hex bar without relief"]


def bar(**changes):
    return {**BAR, "body": {**BAR["body"], **changes}}


def load(*forces):
    return {
        "loads": [
            {
                "name": "case",
                "forces": [dict(zip(("at", "force", "moment"), f, strict=False)) for f in forces],
            }
        ]
    }


WRONG = {
    "link.long": {"pin_to_pin": {"minimum": "1590 mm", "nominal": "1595 mm", "maximum": "1600 mm"}},
    "link.short": {"pin_to_pin": {"minimum": "12 mm", "nominal": "13 mm", "maximum": "14 mm"}},
    "link.nominal_low": {"pin_to_pin__nominal": "310 mm"},
    "link.nominal_high": {"pin_to_pin__nominal": "330 mm"},
    "link.length_low": {"length": "300 mm"},
    "link.length_high": {"length": "340 mm"},
    "link.engagement": {"engagement": "8 mm"},
    "link.reach": {"body": {**tube(), "length": "262 mm"}},
    "link.thread": {"body": tube(thread_depth="12 mm")},
    "link.nut_room": {"pin_to_pin__minimum": "300 mm"},
    "link.bottom": {"body": tube(relief=False)},
    "link.tips": {"pin_to_pin": {"minimum": "99 mm", "nominal": "101 mm", "maximum": "103 mm"}, **bar()},
    "link.balance": load(("end a", [-3000, 0, 0]), ("end b", [2000, 0, 0])),
    "link.ball": load(("end a", [0, 0, 0], [0, 1000, 0])),
    "link.twist": {"end_a": CLEVIS, "pin_to_pin": SHORT_RANGE, **load(("end a", [0, 0, 0], [1000, 0, 0]))},
    "end.male": {"end_a": {"type": "rod end", "rod_end": "3/8-24 female"}},
    "end.head": {"end_a": {**RIGHT, "thread_length": "42 mm"}},
    "hardware.swing": {"end_a": {**RIGHT, "swing_needed": "20 deg"}},
    "end.bolt": {"end_a": {**RIGHT, "bolt": "10 mm"}},
    "end.loose": {"end_a": {**RIGHT, "bolt": "8 mm"}},
    "end.spigot": {"end_a": {**RIGHT, "bolt": "8 mm", "spacers": "high misalignment", "spacer": "4 mm"}},
    "end.collar": {"end_a": {**RIGHT, "bolt": "6 mm", "spacers": "high misalignment"}},
    "bung.wall": {"body": {**tube(), "tube": "1/2 in x 0.065 in"}},
    "bung.burst": {"body": {**tube(), "tube": "1/2 in x 0.035 in"}},
    "bung.diameter": {"body": tube(diameter="20 mm")},
    "bung.clearance": {"body": tube(clearance="1 mm")},
    "bung.spigot": {"body": tube(spigot="3 mm", lead_in="0.5 mm")},
    "bung.floor": {"body": tube(bore="closed", shoulder="17 mm", spigot="5 mm", vent_hole="2 mm")},
    "bung.length": {"body": tube(thread_depth="45 mm")},
    "bung.shoulder": {"body": tube(shoulder="12 mm")},
    "bung.lead": {"body": tube(lead_in="9 mm")},
    "bung.long": {"body": tube(shoulder="26 in")},
    "bung.prep": {"body": tube(weld_prep="3 mm")},
    "bung.flats": {"body": tube(wrench={"type": "flats", "across_flats": "12 mm"})},
    "bung.wrench": {"body": tube(wrench={"type": "flats", "across_flats": "18.5 mm"})},
    "bung.grip": {"body": tube(wrench={"type": "flats", "across_flats": "19 mm", "length": "4 mm"})},
    "bung.flats_wide": {"body": tube(wrench={"type": "flats", "across_flats": "22 mm"})},
    "bung.break": {"edge_break": "3 mm"},
    "bung.witness": {"body": tube(witness_hole="4 mm")},
    "bung.witness_small": {"body": tube(witness_hole="0.5 mm")},
    "bung.witness_near": {"body": tube(witness_in="spigot")},
    "bung.witness_far": {"body": tube(witness_in="wrench")},
    "weld.gap": {"body": tube(weld={"gap": "4 mm"})},
    "weld.unprepared": {"body": tube(weld_prep="0 mm")},
    "weld.step": {"body": tube(diameter="28 mm")},
    "weld.ledge": {"body": tube(weld={"type": "fillet"})},
    "weld.leg": {"body": tube(diameter="24 mm", weld={"type": "fillet", "leg": "0.5 mm"})},
    "weld.leg_large": {"body": tube(diameter="34 mm", weld={"type": "fillet", "leg": "5 mm"})},
    "tube.length": {"pin_to_pin": {"minimum": "144 mm", "nominal": "146 mm", "maximum": "148 mm"}},
    "tube.vent": {"body": tube(bore="closed", spigot="24 mm", thread_depth="22 mm")},
    "tube.vent_large": {"body": tube(vent_hole="6 mm")},
    "tube.vent_room": {
        "pin_to_pin": {"minimum": "150 mm", "nominal": "154 mm", "maximum": "158 mm"},
        "body": tube(vent_hole="3 mm"),
    },
    "bar.burst": bar(size="12 mm", wrench_flats="11 mm"),
    "bar.break": {**BAR, "edge_break": "3 mm"},
    "bar.length": {**BAR, "pin_to_pin": {"minimum": "126 mm", "nominal": "127 mm", "maximum": "128 mm"}},
    "bar.wrench": bar(wrench_flats="18.5 mm"),
    "bar.witness": bar(witness_hole="4 mm"),
    "bar.witness_small": bar(witness_hole="0.5 mm"),
    "bar.witness_flat": {**HEX, "edge_break": "2.5 mm", "body": {
        "type": "bar", "section": "hex", "size": "14 mm", "witness_hole": "3 mm"}},
    "bar.witness_deep": bar(thread_depth="15 mm"),
    "bar.hex": {**HEX, "body": {**HEX["body"], "wrench_flats": "17 mm"}},
    "bar.flats": bar(wrench_flats="21.6 mm"),
    "bar.core": bar(wrench_flats="10 mm"),
    "bar.grip": bar(flats_length="5 mm"),
    "bar.flats_length": bar(flats_length="240 mm"),
    "clevis.fillet": {"end_a": {**CLEVIS, "root_fillet": "9 mm"}, "pin_to_pin": SHORT_RANGE},
    "shank.long": {"end_a": {**CLEVIS, "thread_length": "300 mm"}},
}  # fmt: skip


@pytest.mark.parametrize("code", WRONG)
def test_every_rule_says_what_is_wrong(code):
    with pytest.raises(ValidationError) as caught:
        link(**WRONG[code])
    (error,) = caught.value.errors()
    broken = {rule.code: rule for rule in error["ctx"]["error"].rules}
    assert code in broken
    rule = broken[code]
    assert rule.field.split(".")[0].split("[")[0] in AdjustableLink.model_fields
    assert rule.why and rule.how and (rule.unit == "" or "needed" in rule.wrong())


def test_a_limit_of_length_is_exact():
    """At the length that the message names the part is built; a hundredth shorter it is refused."""
    with pytest.raises(ValidationError) as caught:
        link(pin_to_pin__minimum="300 mm")
    rule = caught.value.errors()[0]["ctx"]["error"].rules[0]
    limit = float(rule.limit)
    assert link(pin_to_pin__minimum=f"{limit:.6f} mm").pin_to_pin.minimum == pytest.approx(limit)
    with pytest.raises(ValidationError, match="jam nut of end a"):
        link(pin_to_pin__minimum=f"{limit - 0.01:.6f} mm")
    # Shank thread 1.25 in, jam nut 0.227 in high, one pitch of point.
    deepest = (1.25 - 0.227) * INCH - PITCH
    assert limit == pytest.approx(328.0 - 2.0 * (deepest - link().link.least_entry(0)))


def test_a_broken_rule_reaches_the_builder_with_its_line():
    text = """family: adjustable link
name: strut
material: 4130 normalized
form: tube
pin_to_pin:
  minimum: 290 mm
  nominal: 320 mm
  maximum: 328 mm
end_a: {type: rod end, rod_end: 3/8-24 male RH}
end_b: {type: rod end, rod_end: 3/8-24 male LH}
body:
  type: tube
  tube: 7/8 in x 0.065 in
  bung: {shoulder: 26 mm, spigot: 14 mm}
"""
    with pytest.raises(InputError) as caught:
        read_text(text, {"adjustable link": AdjustableLink}, "strut.yaml")
    said = str(caught.value)
    assert "strut.yaml:6" in said and "pin_to_pin.minimum" in said and "jam nut" in said
    with pytest.raises(InputError, match="9/16-18 male"):
        read_text(
            text.replace("3/8-24 male RH", "9/16-18 male RH"), {"adjustable link": AdjustableLink}
        )
    with pytest.raises(InputError, match=r"rod end.*clevis"):
        read_text(
            text.replace("type: rod end, rod_end: 3/8-24 male RH", "type: heim"),
            {"adjustable link": AdjustableLink},
        )


def test_a_metal_that_may_not_be_welded_is_refused_as_a_bung():
    with pytest.raises(ValidationError, match="strength beside a weld"):
        link(body=tube(material="7075-T6"))


def test_every_option_is_described_in_the_schema():
    schema = file_schema(AdjustableLink)
    for group in [schema, *schema["$defs"].values()]:
        for name, field in group.get("properties", {}).items():
            assert "description" in field or "$ref" in field or name in ("family", "type"), name
