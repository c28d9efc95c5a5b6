"""Torsion-bar arms: every rule refuses and says why, and a wrong file is refused in words."""

from __future__ import annotations

from math import radians

import pytest
from torsion_arms import (
    BUSHED,
    CLAMP,
    EYE,
    HEX,
    POCKET,
    SPHERICAL,
    SPLINE,
    TAPPED,
    VARIANTS,
    arm,
)

from parts.families import families
from parts.families.torsion_arm.family import TorsionArm
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text
from parts.inputs.variants import with_values

BROKEN = [
    ("arm.length", {"arm__length": "50 mm"}),
    ("arm.long", {"arm__length": "1200 mm"}),
    ("arm.thin", {"arm__thickness": "2 mm"}),
    ("arm.narrow", {"arm__end_width": "5 mm"}),
    ("arm.taper", {"arm__length": "60 mm", "arm__width": "44 mm", "arm__end_width": "8 mm"}),
    ("arm.fillets", {"arm__length": "70 mm", "arm__root_fillet": "150 mm", "arm__width": "30 mm"}),
    ("arm.end_fillet", {"arm__end_fillet": "0.5 mm"}),
    ("arm.root_fillet", {"arm__root_fillet": "0.5 mm"}),
    ("arm.break", {"edge_break": "6 mm"}),
    ("arm.wedge", {"arm__end_thickness": "3 mm", "arm__thickness": "30 mm", "arm__length": "52 mm"}),
    (
        "arm.point",
        {"arm__end_width": "6 mm", "arm__width": "40 mm", "arm__length": "90 mm", "end__diameter": "60 mm"},
    ),
    ("pocket.floor", {"arm__pocket": {**POCKET, "floor": "1 mm"}}),
    ("pocket.depth", {"arm__pocket": {**POCKET, "floor": "19 mm"}}),
    ("pocket.flange", {"arm__pocket": {**POCKET, "flange": "2 mm"}}),
    ("pocket.corner", {"arm__pocket": {**POCKET, "corner": "8 mm"}}),
    ("pocket.cutter", {"arm__pocket": {**POCKET, "corner": "1 mm"}}),
    ("pocket.length", {"arm__pocket": {**POCKET, "hub_end": "120 mm"}}),
    ("pocket.ends", {"arm__pocket": {**POCKET, "far_end": "1 mm"}}),
    ("hub.break", {"hub__diameter": "36 mm", "edge_break": "2 mm"}),
    ("hub.flare", {"arm__width": "60 mm"}),
    ("hub.root", {"arm__width": "49.9 mm", "arm__end_width": "30 mm"}),
    ("hub.cover", {"hub__width": "18 mm"}),
    ("end.cover", {"end__width": "18 mm"}),
    ("end.flare", {"arm__end_width": "40 mm"}),
    ("end.flare", {"end": TAPPED, "arm__end_width": "29 mm"}),
    ("eye.pin", {"end__pin__diameter": "2 mm"}),
    ("eye.large", {"end__diameter": "250 mm"}),
    ("eye.wall", {"end__diameter": "15 mm"}),
    ("eye.width", {"end__width": "2 mm"}),
    ("eye.break", {"edge_break": "4 mm"}),
    ("eye.gap", {"end__bore__gap": "3 mm"}),
    ("eye.bush", {"end": {**BUSHED, "bore": {**BUSHED["bore"], "outside": "13 mm"}}}),
    ("eye.ring", {"end": {**SPHERICAL, "width": "5 mm"}}),
    ("eye.ball", {"end": {**SPHERICAL, "width": "14 mm"}}),
    ("eye.bearing", {"end": {**SPHERICAL, "pin": {**EYE["pin"], "diameter": "14 mm"}}}),
    ("eye.loose", {"end": {**SPHERICAL, "pin": {**EYE["pin"], "diameter": "10 mm"}}}),
    ("spline.wall", {"hub__bore": SPLINE, "hub__diameter": "26 mm"}),
    ("spline.engagement", {"hub__bore": SPLINE, "hub__width": "9 mm"}),
    ("spline.lead_in", {"hub__bore": {**SPLINE, "lead_in": "8 mm"}}),
    ("flats.size", {"hub__bore": {**HEX, "across_flats": "5 mm"}}),
    ("flats.wall", {"hub__diameter": "30 mm"}),
    ("flats.arm", {"arm__width": "24 mm", "arm__end_width": "24 mm"}),
    ("flats.engagement", {"hub__width": "10 mm"}),
    ("flats.clearance", {"hub__bore": {**HEX, "clearance": "1 mm"}}),
    ("flats.sharp", {"hub__bore": {**HEX, "corner_relief": "0.5 mm"}}),
    ("flats.relief", {"hub__bore": {**HEX, "corner_relief": "8 mm"}}),
    ("flats.lead_in", {"hub__bore": {**HEX, "lead_in": "5 mm"}}),
    ("clamp.bar", {"hub__bore": {**CLAMP, "bar_diameter": "5 mm"}}),
    ("clamp.wall", {"hub__bore": CLAMP, "hub__diameter": "30 mm"}),
    ("clamp.width", {"hub__bore": CLAMP, "hub__width": "15 mm"}),
    ("clamp.pitch", {"hub__bore": {**CLAMP, "count": 4}}),
    ("clamp.clearance", {"hub__bore": {**CLAMP, "clearance": "0.5 mm"}}),
    ("clamp.slit", {"hub__bore": {**CLAMP, "slit": "0.5 mm"}}),
    ("clamp.slit_wide", {"hub__bore": {**CLAMP, "slit": "9 mm"}}),
    ("clamp.relief", {"hub__bore": {**CLAMP, "relief": "1 mm"}}),
    ("clamp.relief_large", {"hub__bore": {**CLAMP, "relief": "12 mm"}}),
    ("clamp.offset", {"hub__bore": {**CLAMP, "offset": "14 mm"}}),
    ("clamp.clear", {"hub__bore": CLAMP, "hub__diameter": "90 mm"}),
    ("clamp.ear", {"hub__bore": {**CLAMP, "ear": "6 mm"}}),
    ("clamp.ear_thick", {"hub__bore": {**CLAMP, "ear": "24 mm"}}),
    ("clamp.bolt", {"hub__bore": {**CLAMP, "bolt": "M8x20 12.9 socket"}}),
    ("clamp.thread", {"hub__bore": {**CLAMP, "bolt": "M8x50 12.9 socket"}}),
    ("clamp.clocking", {"hub__bore": {**CLAMP, "clocking": "80 deg"}}),
    ("clamp.turned", {"hub__bore": {**CLAMP, "clocking": "58 deg"}, "arm__width": "46 mm"}),
    ("tapped.gender", {"end": {**TAPPED, "rod_end": "M12 female"}}),
    ("tapped.width", {"end": {**TAPPED, "width": "14 mm"}}),
    ("tapped.height", {"end": {**TAPPED, "height": "14 mm"}}),
    ("tapped.length", {"end": {**TAPPED, "length": "20 mm"}}),
    ("tapped.stand_off", {"end": {**TAPPED, "stand_off": "15 mm"}}),
    ("thread.engagement", {"end": {**TAPPED, "depth": "8 mm"}}),
    ("bar.thin", {"bar__diameter": "4 mm"}),
    ("bar.end", {"bar__diameter": "25 mm"}),
    ("bar.bore", {"bar__bore": "20 mm"}),
    ("bar.short", {"bar__active_length": "60 mm"}),
    ("bar.long", {"bar__active_length": "4000 mm"}),
    ("bar.height", {"bar__travel": {"type": "height", "up": "190 mm", "down": "30 mm"}}),
    ("bar.turn", {"bar__travel": {"type": "angle", "up": "15 deg", "down": "-5 deg"}}),
    ("bar.steep", {"bar__travel": {"type": "angle", "up": "80 deg", "down": "5 deg"}}),
    ("bar.reversed", {"bar__preset": True}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "changes"), BROKEN, ids=[f"{c}-{i}" for i, (c, _) in enumerate(BROKEN)]
)
def test_every_rule_refuses_and_says_why(code, changes):
    rules = broken(changes)
    assert code in rules, f"broken are {sorted(rules)}"
    rule = rules[code]
    assert rule.why and rule.how and (rule.unit == "" or "needed" in rule.wrong())


SILLY = [
    ("hex", "hub.large", "hub.diameter", 400.0),
    ("hex", "hub.wide", "hub.width", 250.0),
    ("hex", "arm.crank", "arm.crank", 100.0),
    ("spline", "spline.long", "hub.width", 110.0),
    ("tapped", "tapped.height_large", "end.height", 160.0),
    ("tapped", "tapped.width_large", "end.width", 160.0),
]


@pytest.mark.parametrize(("name", "code", "path", "value"), SILLY)
def test_sizes_beyond_any_stock_are_taken_for_a_wrong_unit(name, code, path, value):
    """Such a part has no stock either: its rules are asked alone."""
    rules = {rule.code: rule for rule in with_values(arm(**VARIANTS[name]), {path: value}).rules()}
    assert not rules[code].ok and rules[code].field == path


def broken(changes: dict) -> dict:
    from pydantic import ValidationError

    with pytest.raises(ValidationError) as caught:
        arm(**changes)
    error = caught.value.errors()[0]["ctx"]["error"]
    return {rule.code: rule for rule in error.rules}


def test_every_rule_of_the_family_is_broken_by_some_test():
    codes = {rule.code for name in VARIANTS for rule in arm(**VARIANTS[name]).rules()}
    elsewhere = ("ears.", "pin.", "throat.", "bush.", "hardware.")
    own = {code for code in codes if not code.startswith(elsewhere)}
    assert own == {code for code, _ in BROKEN} | {code for _, code, _, _ in SILLY}


YAML = """
family: torsion-bar arm
name: HC-103
material: 4340 Q&T 160 ksi
hub: {diameter: 2 in, width: 36 mm, bore: {type: hex, across_flats: 7/8 in}}
arm: {length: 7 in, width: 40 mm, thickness: 18 mm, end_width: 28 mm}
end:
  type: eye
  diameter: 36 mm
  width: 20 mm
  bore: {type: plain}
  pin: {diameter: 12 mm, material: 4340 Q&T 150 ksi, ear: 8 mm}
bar:
  diameter: 21 mm
  active_length: 700 mm
  material: 51CrV4 spring +QT
  travel: {type: angle, up: 15 deg, down: 10 deg}
  static_load: 1500 N
"""


def read(text: str) -> TorsionArm:
    return read_text(text, families(), "arm.yaml")


def test_yaml_reads():
    part = read(YAML)
    assert part.arm.length == pytest.approx(177.8)
    assert part.hub.bore.across_flats == pytest.approx(22.225)
    assert part.bar.travel.up == pytest.approx(radians(15.0))


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("type: hex, ", "type: octagon, ", "hub.bore", "octagon"),
        ("across_flats: 7/8 in", "spline: 48 teeth 1 in", "hub.bore", "across_flats"),
        ("51CrV4 spring +QT", "6061-T6", "bar.material", "spring steel"),
        ("51CrV4 spring +QT", "4130 Q&T 125 ksi", "bar", "known is bar up to 12.7 mm"),
        ("width: 36 mm", "width: 12 mm", "hub.width", "stands over the faces of the hub"),
        ("diameter: 21 mm", "diameter: 24 mm", "bar.diameter", "thicker than its own end"),
        ("up: 15 deg", "up: 15 mm", "bar.travel", "mm"),
    ],
)
def test_wrong_yaml_is_refused_in_words(old, new, field, words):
    with pytest.raises(InputError) as caught:
        read(YAML.replace(old, new, 1))
    problems = caught.value.problems
    assert any(one.field.startswith(field) for one in problems), [one.field for one in problems]
    assert words in " ".join(f"{one.wrong} {one.right}" for one in problems)
