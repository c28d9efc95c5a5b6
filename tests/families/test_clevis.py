"""The clevis: every option built and held against its outlines, every rule broken, what a builder reads."""

import importlib

import numpy as np
import pytest
from by_turns import by_turns
from clevises import EARS, SHANKS, STEEL, clevis, every_part
from pydantic import ValidationError
from stated import is_sound, worst_difference

from parts.families.clevis.family import Clevis
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text
from parts.inputs.variants import with_values
from parts.making.model import SHARP, SOFTENED, model
from parts.standards.threads.threads import thread

EXACT = 1e-9
"""Closed forms against the same floating-point arithmetic: rounding only."""
CUT = 1e-6
"""Dimensions read off the solid: the kernel's own tolerance is 1e-7."""
SHARP_EDGES = {"edge_break": "0 mm", "root_fillet": "0 mm"}


@pytest.mark.parametrize("shank", by_turns(SHANKS, of=5))
def test_every_shank_is_the_part_that_is_checked(shank):
    part = clevis(shank)
    assert is_sound(part)
    assert worst_difference(part, (0.3, 0.97)) < SOFTENED
    assert model(part).cuts[0].difference < SOFTENED


@pytest.mark.parametrize("shank", by_turns(SHANKS, 1))
def test_sharp_shanks_equal_their_outlines(shank):
    part = clevis(shank, **SHARP_EDGES)
    assert not part.softened
    assert is_sound(part)
    assert worst_difference(part, (0.0005, 0.6, 0.9995)) < SHARP


@pytest.mark.parametrize("ears", by_turns(EARS, of=5))
@pytest.mark.parametrize("edges", [{}, SHARP_EDGES], ids=["broken edges", "sharp"])
def test_every_kind_of_ear_is_the_part_that_is_checked(ears, edges):
    part = clevis(**EARS[ears], **edges)
    assert is_sound(part)
    assert worst_difference(part, (0.02, 0.98)) < (SHARP if edges else SOFTENED)


@pytest.mark.parametrize("shank", by_turns(["female thread", "counterbored pad", "foot"], 1))
def test_ears_are_clocked_about_the_shank(shank):
    part = clevis(shank, clocking="15 deg")
    assert is_sound(part)
    assert worst_difference(part, (0.3, 0.7)) < SOFTENED
    square, turned = (p.pieces[0].solid.val().BoundingBox() for p in (clevis(shank), part))
    if "pad" in shank:
        half = (60.0 * np.cos(np.radians(15.0)) + 70.0 * np.sin(np.radians(15.0))) / 2.0
        # The pad's rounded and broken corners pull the box in by less than their radius.
        assert half - 5.0 < turned.ymax < half
        assert turned.ymax > square.ymax


def test_a_moved_dimension_reforms_the_part():
    before, after = clevis(), clevis(ears__depth="27 mm")
    low, lower = (p.pieces[0].solid.val().BoundingBox().xmin for p in (before, after))
    assert low - lower == pytest.approx(5.0, abs=CUT)


def test_volume_of_a_sharp_clevis_follows_from_its_dimensions():
    part = clevis("male thread without undercut", **SHARP_EDGES, ears__corner="2 mm")
    ears, shank = part.ears, part.shank
    w, gap, r = ears.width, ears.throat.width, ears.corner
    block = (w * ears.back + np.pi * w**2 / 8.0) * ears.height
    throat = gap * (w * ears.depth + np.pi * w**2 / 8.0) - 2.0 * (1.0 - np.pi / 4.0) * r**2 * w
    bores = 2.0 * np.pi / 4.0 * ears.pin.bore**2 * ears.thickness
    d, p = shank.thread.major, shank.thread.pitch
    point = np.pi / 3.0 * p * ((d / 2) ** 2 + (d / 2) * (d / 2 - 0.8 * p) + (d / 2 - 0.8 * p) ** 2)
    stud = np.pi / 4.0 * d**2 * (shank.length - p) + point
    assert part.pieces[0].solid.val().Volume() == pytest.approx(
        block - throat - bores + stud, rel=1e-6
    )


def holes(part, diameter):
    """Cylindrical faces of a diameter."""
    return [
        face
        for face in part.pieces[0].solid.faces("%CYLINDER").vals()
        if face._geomAdaptor().Cylinder().Radius() == pytest.approx(diameter / 2.0, abs=CUT)
    ]


def test_holes_are_modelled_as_the_shop_makes_them():
    reamed, bushed = clevis(), clevis(**EARS["bushed"])
    assert len(holes(reamed, 9.525)) == 2
    assert len(holes(bushed, 13.0)) == 2
    tapped = clevis(**EARS["tapped ear"])
    assert len(holes(tapped, 9.525 + 0.1)) == 1
    assert len(holes(tapped, thread("3/8-24 UNF").minor_internal)) == 1
    assert len(holes(clevis("female thread"), thread("M8").minor_internal)) == 1
    assert len(holes(clevis("tapped pad"), thread("M6").minor_internal)) == 4
    assert len(holes(clevis("counterbored pad"), 11.0)) == 4


@pytest.mark.parametrize("shank", ["foot", "leaning foot"])
def test_the_cope_is_the_tube(shank):
    part = clevis(shank)
    tube = part.shank.tube.width_mm
    assert len(holes(part, tube)) == 1
    # The weld's root line lies on the tube, and on the outside of the body.
    path = part.shank.path(part.body)
    axis = np.array([-part.shank.distance, 0.0, 0.0])
    along = part.shank.axes(part.body)[2]
    assert np.linalg.norm(np.cross(path.points - axis, along), axis=-1) == pytest.approx(
        tube / 2.0, rel=EXACT
    )
    y, z = (
        np.abs(path.points[:, 1]) / (part.ears.width / 2),
        np.abs(path.points[:, 2]) / (part.ears.height / 2),
    )
    assert np.maximum(y, z) == pytest.approx(1.0, rel=EXACT)


def test_length_of_the_weld_round_a_foot():
    part = clevis("foot")
    w, h, tube = part.ears.width, part.ears.height, part.shank.tube.width_mm
    # Two straight sides along the tube, and two arcs across it.
    expected = 2.0 * h + 2.0 * tube * np.arcsin(w / tube)
    # Simpson's rule on 32 steps of an arc of 70 degrees: its error falls with the fourth power of the step.
    assert part.shank.path(part.body).lengths.sum() == pytest.approx(expected, rel=1e-6)


BROKEN = [
    ("pin.small", "male thread", {"ears.pin.diameter": 2.0}),
    ("pin.large", "male thread", {"ears.pin.diameter": 250.0}),
    ("throat.pin", "male thread", {"ears.pin.diameter": 10.0}),
    ("throat.loose", "male thread", {"ears.pin.diameter": 9.0}),
    ("ears.edge", "male thread", {"ears.width": 18.0}),
    ("ears.wall", "male thread", {"ears.width": 12.0}),
    ("ears.thin", "male thread", {"ears.thickness": 1.0}),
    ("ears.large", "male thread", {"ears.depth": 550.0}),
    ("ears.sharp", "male thread", {"ears.corner": 0.1}),
    ("ears.corner", "male thread", {"ears.corner": 9.0}),
    ("ears.depth", "male thread", {"ears.depth": 12.0}),
    ("ears.root", "male thread", {"ears.depth": 6.0}),
    ("ears.floor", "male thread", {"ears.floor_thickness": 4.0}),
    ("ears.break", "male thread", {"edge_break": 2.0}),
    ("ears.fine_break", "male thread", {"edge_break": 0.01}),
    ("clevis.fine_fillet", "male thread", {"root_fillet": 0.01}),
    ("spigot.fine_lead_in", "spigot", {"shank.lead_in": 0.01}),
    ("clevis.fillet", "male thread", {"root_fillet": 8.0}),
    ("shank.length", "male thread", {"shank.length": 18.0}),
    ("shank.long", "male thread", {"shank.length": 300.0}),
    ("thread.engagement", "male thread", {"shank.engagement": 8.0}),
    ("shank.shoulder", "male thread", {"ears.width": 12.5}),
    ("clevis.shoulder", "male thread with neck", {"shank.neck.diameter": 22.0}),
    ("clevis.shoulder_thick", "male thread with neck", {"shank.neck.diameter": 24.0}),
    ("shank.neck", "male thread with neck", {"shank.neck.diameter": 11.0}),
    ("shank.neck_length", "male thread with neck", {"shank.neck.length": 1.5}),
    ("shank.flats", "male thread with neck", {"shank.neck.flats": 11.0}),
    ("flats.wide", "male thread with neck", {"shank.neck.flats": 17.0}),
    ("flats.deep", "male thread with neck", {"shank.neck.flats": 10.0}),
    ("flats.short", "male thread with neck", {"shank.neck.length": 9.0}),
    ("flats.wrench", "male thread with neck", {"shank.neck.flats": 14.6}),
    ("boss.wall", "female thread", {"shank.flats": 10.0}),
    ("boss.depth", "female thread", {"shank.engagement": 15.0}),
    ("boss.long", "female thread", {"shank.length": 300.0}),
    ("boss.length", "female thread", {"shank.length": 20.0}),
    ("spigot.length", "spigot", {"shank.length": 10.0}),
    ("spigot.long", "spigot", {"shank.length": 260.0}),
    ("spigot.loose", "spigot", {"shank.clearance": 0.5}),
    ("spigot.small", "spigot", {"shank.clearance": 9.0}),
    ("spigot.shoulder", "spigot", {"shank.shoulder": 3.0}),
    ("stub.wide", "spigot on a stub", {"shank.stub.fillet": 6.5}),
    ("stub.sharp", "spigot on a stub", {"shank.stub.fillet": 0.2}),
    ("stub.short", "spigot on a stub", {"shank.stub.length": 5.0}),
    ("stub.long", "spigot on a stub", {"shank.stub.length": 140.0}),
    (
        "clevis.shoulder",
        "spigot on a stub",
        {"shank.stub.diameter": 20.0, "shank.stub.fillet": 2.0},
    ),
    ("spigot.shoulder", "spigot on a stub", {"shank.shoulder": 2.0}),
    ("spigot.prep", "spigot", {"shank.weld_prep": 0.5}),
    ("spigot.deep_prep", "spigot", {"shank.weld_prep": 3.0}),
    ("spigot.lead_in", "spigot", {"shank.lead_in": 6.0}),
    ("rosette.small", "spigot", {"shank.rosettes.diameter": 6.0}),
    ("rosette.pitch", "spigot", {"shank.rosettes.count": 4}),
    ("rosette.end", "spigot", {"shank.rosettes.from_end": 9.0}),
    ("rosette.tip", "spigot", {"shank.rosettes.from_end": 22.0}),
    ("pad.thin", "pad", {"shank.thickness": 2.0}),
    ("pad.thick", "pad", {"shank.thickness": 250.0}),
    ("pad.large", "pad", {"shank.width": 1500.0}),
    ("pad.corner", "pad", {"shank.corner": 31.0}),
    ("pad.corner_break", "pad", {"shank.corner": 0.2}),
    ("pad.break", "pad", {"edge_break": 2.5}),
    ("pad.width", "pad", {"shank.width": 24.0}),
    ("pad.height", "pad", {"shank.height": 26.0}),
    ("pad.corners", "pad", {"shank.width": 27.0, "shank.height": 33.0, "shank.corner": 13.0}),
    ("pad.gap", "pad", {"shank.holes.gap": 3.0}),
    ("pad.edge", "pad", {"shank.at": [(-25.0, -25.0), (20.0, 25.0)]}),
    ("pad.pitch", "pad", {"shank.at": [(20.0, 25.0), (20.0, 18.0)]}),
    ("pad.access", "pad", {"shank.at": [(-15.0, 0.0), (20.0, 25.0)]}),
    ("pad.counterbore", "counterbored pad", {"shank.holes.diameter": 8.0}),
    ("pad.counterbore_depth", "counterbored pad", {"shank.holes.depth": 8.0}),
    ("foot.tilt", "foot", {"shank.tilt": np.radians(60.0)}),
    ("foot.wide", "foot", {"ears.width": 36.0}),
    ("foot.near", "foot", {"shank.distance": 40.0}),
    ("foot.far", "foot", {"shank.distance": 1000.0}),
    ("foot.leg", "foot", {"shank.leg": 8.0}),
    ("foot.thin_leg", "foot", {"shank.leg": 1.0}),
]
BROKEN_EARS = [
    ("ears.fine_corner", "square nose", {"ears.nose_corner": 0.01}),
    ("ears.nose_corner", "square nose", {"ears.nose_corner": 12.0}),
    ("ears.break_corner", "square nose", {"ears.nose_corner": 0.3}),
    ("ears.long_nose", "square nose", {"ears.edge": 90.0}),
    ("ears.bullet", "bullet nose", {"ears.edge": 11.5}),
    ("bush.wall", "bushed", {"ears.pin.hole.outside": 10.5}),
    ("ears.bush", "bushed", {"ears.thickness": 1.6}),
    ("pin.gap", "clearance hole", {"ears.pin.hole.gap": 2.0}),
    ("pin.thread", "tapped ear", {"ears.pin.diameter": 9.0}),
    ("throat.spigot", "high misalignment", {"ears.pin.diameter": 11.5}),
    ("throat.step", "high misalignment", {"ears.throat.spacer": 0.5}),
    ("throat.blade", "blade", {"ears.throat.end": 5.0}),
    ("throat.side", "blade", {"ears.throat.clearance": 4.0}),
]


def broken(part):
    return {rule.code: rule for rule in part.rules() if not np.all(rule.ok)}


@pytest.mark.parametrize(
    ("code", "kind", "changes"),
    [*BROKEN, *BROKEN_EARS],
    ids=lambda v: v if isinstance(v, str) else "",
)
def test_a_broken_rule_says_what_is_wrong_and_what_to_do(code, kind, changes):
    part = with_values(every_part()[kind](), changes)
    rule = broken(part)[code]
    assert len(rule.why) > 15
    assert len(rule.how) > 5
    assert rule.field.split(".")[0] in Clevis.model_fields
    assert f"{rule.sense} " in rule.wrong()


def test_every_rule_is_broken_once():
    every = {rule.code for make in every_part().values() for rule in make().rules()}
    known = {code for code in every if not code.startswith("hardware.")}
    assert known == {code for code, _, _ in [*BROKEN, *BROKEN_EARS]}


YAML = """\
units: {length: mm, force: N}
family: clevis
name: HC-150
material: 4130 normalized
ears:
  thickness: 6
  width: 22
  depth: 22
  floor_thickness: 8
  throat: {type: rod end, rod_end: 3/8-24 male}
  pin: {diameter: 3/8 in, material: 4130 Q&T 125 ksi}
shank: {type: male thread, thread: M12x1.5, length: 30, engagement: 16}
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("width: 22", "width: 17",
        "7:10: ears.width: 17 mm (0.6693 in) where at least 19.05 mm (0.7500 in) is needed: "
         "the pin would tear out through the nose"),
        ("length: 30", "length: 20", "shank.length: 20 mm (0.7874 in) where at least 22.7 mm"),
        ("M12x1.5", "M13", "M13"),
        ("rod_end: 3/8-24 male", "rod_end: 3/8-25 male", "3/8-25 male"),
        ("type: male thread", "type: male tread", "male thread"),
        ("4130 Q&T 125 ksi}", "4130 Q&T 125 ksi, hole: {type: reamed, fit: Q7}}", "Q7"),
        ("depth: 22", "dept: 22", "dept"),
    ],
)  # fmt: skip
def test_wrong_input_is_named_with_its_place(old, new, said):
    read_text(YAML, {"clevis": Clevis})
    with pytest.raises(InputError) as error:
        read_text(YAML.replace(old, new, 1), {"clevis": Clevis})
    assert said in str(error.value)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"shank__bolts": {"size": 6}}, "state `material`"),
        ({"shank__bolts": {}}, "known by nothing"),
        ({"shank__bolts": {"size": 6, "thread": "M6"}}, "known by thread and size"),
        ({"shank__bolts": {"bolt": "M6x20 8.8", "material": STEEL}}, "leave `material` out"),
        ({"shank__bolts": {"size": 6, "material": STEEL}, "shank__holes": {"type": "tapped"}},
        "tapped holes need"),
    ],
)  # fmt: skip
def test_bolts_of_a_pad_are_known_one_way(changes, said):
    with pytest.raises(ValidationError, match=said):
        clevis("pad", **changes)


@pytest.mark.parametrize("shank", ["spigot", "foot"])
def test_what_cannot_be_welded_is_refused(shank):
    with pytest.raises(ValidationError, match="strength beside a weld '7075-T6'"):
        clevis(shank, material="7075-T6")


def test_facts_and_bought_hardware():
    part = clevis(**EARS["high misalignment"])
    facts = part.facts()
    assert facts["throat"] == (pytest.approx(part.ears.throat.rod_end.ball_width + 6.1), "mm")
    swing = part.ears.throat.rod_end.swing_between(part.ears.throat.width)
    assert facts["rod end swing each way"][0] == pytest.approx(np.degrees(swing))
    assert facts["change of length per turn"] == (pytest.approx(25.4 / 20), "mm")
    # ISO 286-1 table: H7 at 9.525 mm is 0 to +15 µm.
    assert facts["bore H7, largest"][0] == pytest.approx(9.525 + 0.015)
    assert [b.quantity for b in part.bought()] == [1, 1, 2]
    assert clevis("pad").bought()[-1].designation == "bolt M6x20 8.8"
    assert clevis("pad").bought()[-1].quantity == 4
    assert [b.fits for b in clevis(**EARS["bushed"]).bought()][1] == "the ears, pressed in"


@pytest.mark.parametrize("kind", [*SHANKS, *EARS])
def test_the_part_speaks(kind):
    part = every_part()[kind]()
    assert all(isinstance(unit, str) for _, unit in part.facts().values())
    assert part.bought()
    assert all(said.endswith(".") for said in part.cautions())


def test_every_field_says_what_it_is():
    def fields(model):
        for name, field in model.model_fields.items():
            yield f"{model.__name__}.{name}", field.description

    seen = [Clevis, *_groups(Clevis)]
    told = dict(entry for group in seen for entry in fields(group))
    assert [name for name, text in told.items() if not text or "\n" in text] == []


def _groups(model):
    schema = model.model_json_schema()
    names = set(schema["$defs"])
    modules = (
        *(
            "features.fork.ears",
            "features.fork.fork",
            "features.fork.throat",
            "features.pins.pin",
            "features.thread.male_thread",
            "features.thread.female_thread",
        ),
        *(
            "families.clevis.spigot",
            "families.clevis.pad",
            "families.clevis.pad_bolts",
            "features.bolts.pattern",
            "families.clevis.foot",
        ),
    )
    for name in modules:
        module = importlib.import_module(f"parts.{name}")
        yield from (getattr(module, n) for n in sorted(names) if hasattr(module, n))
