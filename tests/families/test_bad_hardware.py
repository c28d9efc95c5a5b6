"""Hardware that does not go together, and designations that are wrong, as a builder meets them: in a file, by line.

Each case changes one line of a part that holds; the message names that line and its field, what is wrong, and what
would be right or stands nearest.
"""

import re
from pathlib import Path

import pytest

import parts
from parts.families.torsion_arm.family import TorsionArm
from parts.inputs.problems import InputError

CLEVIS = """\
family: clevis
name: HC-119
material: Ti-6Al-4V annealed
edge_break: 0.5 mm
ears:
  thickness: 6 mm
  width: 26 mm
  depth: 24 mm
  corner: 3 mm
  floor_thickness: 8 mm
  throat: {type: rod end, rod_end: 3/8-24 male RH, spacer: 3 mm, swing_needed: 8 deg}
  pin: {bolt: NAS6306}
shank:
  type: male thread
  thread: 7/16-20 UNF
  length: 30 mm
  engagement: 16 mm
  mate: 4130 normalized
  neck: {diameter: 18 mm, length: 11 mm, flats: 16 mm}
loads:
  - {name: pull, forces: [{at: pin, force: {x: 5 kN}}]}
"""
TYPED = {
    "build: build.yaml\n": "",
    r'\{point: "frame tab, right"\}': "[-70, -8]",
    r'\{point: "upper frame tab, right"\}': "[-22, 88]",
    r"\{point: right peg\}": "[28, 72]",
    r"\{point: pedal pivot\}": "[62, 8]",
    r"\{point: master cylinder\}": "[-64, 44]",
    r"\{point: pedal spring\}": "[24, -24]",
    r"\{point: pedal stop\}": "[105.1, 31.5]",
    r"height: \{less: .*right peg.*\}": "height: 90",
    r"axis_height: .*": "axis_height: 18",
    r"height: \{less: .*pedal spring.*\}": "height: 21.3",
    r"height: \{less: .*pedal stop.*\}": "height: 18",
}
"""What the bracket takes from its build, typed, so that it is read alone."""
BRACKET = (Path(__file__).parents[2] / "params" / "hc-105-foot-bracket-right.yaml").read_text()
for form, plain in TYPED.items():
    BRACKET = re.sub(form, plain, BRACKET)
GUSSET = """\
family: gusset plate
name: HC-118
material: 4130 normalized
thickness: plate 0.090 in
tube_a: 1-1/4 in x 0.065 in
tube_b: 1 in x 0.058 in
tube_material: 4130 normalized
angle: 62 deg
gap: 0.2 mm
toe_radius: 1/4 in
plate: {type: centre plane, leg_a: 5-3/4 in, leg_b: 5-1/4 in, relief: {type: round, size: 12 mm}}
weld: {leg: 2.5 mm, ends: returned, filler: ER70S-2}
loads:
  - {name: landing, forces: [{at: tube b, force: [300 N, -500 N, 0]}]}
"""


def said(tmp_path, text, old, new):
    assert text.count(old) == 1, old
    file = tmp_path / "part.yaml"
    file.write_text(text.replace(old, new))
    with pytest.raises(InputError) as refused:
        parts.load(file)
    return str(refused.value), text[: text.index(old)].count("\n") + 1


@pytest.mark.parametrize("text", [CLEVIS, GUSSET], ids=["clevis", "gusset"])
def test_the_parts_hold_as_they_stand(tmp_path, text):
    file = tmp_path / "part.yaml"
    file.write_text(text)
    assert parts.load(file).check().ok


WRONG = [
    (CLEVIS, "7/16-20 UNF", "M10x1.4", "shank.thread", "no pitch of 1.4 mm; nearest: M10x1.5"),
    (CLEVIS, "7/16-20 UNF", "3/8-20", "shank.thread", "no 20 threads per inch; nearest: 3/8-16 UNC, 3/8-24 UNF"),
    (CLEVIS, "Ti-6Al-4V annealed", "Ti-6Al-4V Grade 9", "material", "contradicts itself"),
    (CLEVIS, "3/8-24 male RH", "3/8-20 male RH", "ears.throat.rod_end", "nearest: 3/8-24 male RH"),
    (CLEVIS, "bolt: NAS6306", "bolt: NAS6399", "ears.pin.bolt", "nearest: NAS6606, NAS6306"),
    (CLEVIS, "bolt: NAS6306", "bolt: M9 8.8", "ears.pin.bolt", "nearest: M10 8.8, M8 8.8"),
    (CLEVIS, "bolt: NAS6306", "bolt: AN6-14", "ears.pin.bolt", "give it without its length; nearest: AN6"),
    (CLEVIS, "bolt: NAS6306", "bolt: ISO 2341 B 8", "ears.pin.bolt", "write `clevis_pin: ISO 2341 B 8`"),
    (CLEVIS, "bolt: NAS6306", "clevis_pin: AN6", "ears.pin.clevis_pin", "write `bolt: AN6`"),
    (CLEVIS, "bolt: NAS6306", "clevis_pin: ISO 2341 B 11", "ears.pin.clevis_pin", "nearest: ISO 2341 B 10,"),
    (BRACKET, "bearing: 6202-2RS", "bearing: 6299", "pedal.bearing", "nearest: 629, 699, 6209"),
    (BRACKET, "thrust: AXK 2035", "thrust: AXK 2135", "pedal.thrust", "nearest: AXK 2035"),
    (BRACKET, "pin: ISO 8734 5", "pin: ISO 8734 7", "spring.pin", "nearest: ISO 8734 6"),
    (BRACKET, "bolt: M12 10.9", "bolt: M12 11.9", "peg.bolt", "nearest: M12 8.8 socket, M12 10.9 socket"),
    (GUSSET, "plate 0.090 in", "plate 0.091 in", "thickness", "nearest: plate 0.090 in"),
    (GUSSET, "plate 0.090 in", "12 pin", "thickness", "did you mean `12 in`?"),
    (GUSSET, "1-1/4 in x 0.065 in", "1-1/4 in x 0.8 in", "tube_a", "leaves no bore"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "old", "new", "field", "words"), WRONG)
def test_a_wrong_designation_is_refused_where_it_stands(tmp_path, text, old, new, field, words):
    message, line = said(tmp_path, text, old, new)
    assert re.match(rf".*part\.yaml:{line}:\d+: {re.escape(field)}: ", message), message
    assert words in message


UNFIT = [
    # The ball with its spacers against the throat: 12.7 + 6 mm, and half a millimetre of play at most.
    (CLEVIS, "spacer: 3 mm,", "spacer: 3 mm, clearance: 0.6 mm,", "ears.throat.clearance", "does not fill the gap"),
    # The pin against the ball's bore of 9.525 mm.
    (CLEVIS, "bolt: NAS6306", "bolt: M10 10.9", "ears.throat.rod_end", "the pin does not enter the ball"),
    (CLEVIS, "bolt: NAS6306", "bolt: M8 10.9", "ears.throat.rod_end", "the pin rattles in the ball"),
    # The swing against the clevis: 9.7 degrees with 3 mm of spacer.
    (CLEVIS, "swing_needed: 8 deg", "swing_needed: 12 deg", "ears.throat.swing_needed", "before it has swung so far"),
    # Thread against thread: size, hand, and class by gender.
    (CLEVIS, "mate: 4130 normalized", "mate_thread: 7/16-14 UNC", "shank.mate_thread", "do not screw together"),
    (CLEVIS, "mate: 4130 normalized", "mate_thread: 7/16-20 UNF LH", "shank.mate_thread", "left-hand one"),
    (CLEVIS, "mate: 4130 normalized", "mate_thread: 7/16-20 UNF-2A", "shank.mate_thread", "is a class of bolts"),
    (CLEVIS, "7/16-20 UNF", "7/16-20 UNF-2B", "shank.thread", "is a class of nuts"),
    # A stub of a 6202 takes no M14 in its end; a socket head goes in a counterbore and no hexagon.
    (BRACKET, "bolt: M6 8.8, depth", "bolt: M12 8.8, depth", "pedal.retention.thread", "wall"),
    (BRACKET, "{type: spotfaced, diameter: 20, depth: 1}", "{type: counterbored, depth: 5}", "mounts[3].bolt",
     "no socket head"),
    # The stack against the lengths that are made: 200 mm of M10 is the longest.
    (BRACKET, "bolt: M10 10.9", "onto: 200\n    bolt: M10 10.9", "mounts[1].bolt", "has a grip for a stack"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "old", "new", "field", "words"), UNFIT)
def test_hardware_that_does_not_fit_is_refused(tmp_path, text, old, new, field, words):
    message, _ = said(tmp_path, text, old, new)
    [one] = [each for each in message.splitlines() if words in each]
    assert re.match(rf".*part\.yaml:\d+:\d+: {re.escape(field)}: ", one), message


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("bolt: NAS6306", "bolt: NAS6606", "no cadmium against titanium"),
        ("bolt: NAS6306", "bolt: 3/8-24 grade 8", "zinc plate on a titanium part is eaten fast"),
        ("bolt: NAS6306", "bolt: NAS6306", "rod end 3/8-24 male RH (zinc) on Ti-6Al-4V annealed"),
    ],
)
def test_metals_that_should_not_touch_are_cautioned(tmp_path, old, new, words):
    file = tmp_path / "part.yaml"
    file.write_text(CLEVIS.replace(old, new))
    assert words in " ".join(parts.load(file).cautions())


def test_the_wall_around_a_bearing_seat_is_held(tmp_path):
    """35 mm outside, so 3.5 mm of wall are asked for: a boss of 42 mm."""
    seat = "type: seat\n  at: [62, 8]\n  bearing: 6202-2RS\n  boss: {diameter: %s, inner: 5}\n"
    start, end = BRACKET.index("  type: stub"), BRACKET.index("master_cylinder:")
    # The plate's own wall about a hole is less here, so that the seat's rule is the one that holds.
    text = BRACKET[:start].replace("wall: 6", "wall: 2") + "  " + seat % "42.1" + BRACKET[end:]
    file = tmp_path / "part.yaml"
    file.write_text(text)
    parts.load(file)
    message, _ = said(tmp_path, text, "diameter: 42.1, inner", "diameter: 41.9, inner")
    assert "pedal.bearing" in message and "too thin to hold it round" in message


def test_a_pin_of_plastic_falls_short_by_its_strength_and_is_no_fault_of_the_tool():
    """Regression: the insulator had no place in the table of galvanic pairs."""
    from torsion_arms import EYE, PIN, stated

    part = TorsionArm(**stated(end={**EYE, "pin": {**PIN, "material": "PA"}}))
    assert not part.check().ok
    assert not any("PA (insulator)" in one for one in part.cautions())
