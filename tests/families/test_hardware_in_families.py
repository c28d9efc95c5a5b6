"""Bought-in hardware held against the families that take it: every rule reaches the builder, by hand."""

import copy

import numpy as np
import pytest
from clevises import PAD, clevis, stated
from pydantic import ValidationError

from parts.families.clevis.family import Clevis
from parts.families.foot_bracket.family import FootControlBracket
from parts.families.gusset.family import Gusset
from parts.families.links.adjustable_link import AdjustableLink
from parts.families.links.turnbuckle import Turnbuckle
from parts.families.torsion_arm.family import TorsionArm
from parts.features.bolts.grip import plain_shank
from parts.features.bolts.hardware import swing
from parts.features.fork.throat import RodEndThroat
from parts.features.pins.bought_pin import clevis_pins
from parts.inputs.variants import with_values
from parts.standards.fasteners.fasteners import bolt
from parts.standards.fasteners.pins import CLEVIS_PIN_STEEL

INCH = 25.4


def changed(family, **changes):
    """The family's example with some values replaced, `a__b` standing for `a.b`."""
    data = copy.deepcopy(dict(family.example))
    for name, value in changes.items():
        *groups, last = name.split("__")
        owner = data
        for group in groups:
            owner = owner[group]
        owner[last] = value
    return data


def refused(family, **changes):
    with pytest.raises(ValidationError) as found:
        family.model_validate(changed(family, **changes))
    return str(found.value)


def test_a_ball_fills_its_throat() -> None:
    """More than half a millimetre of play in all, and the bolt draws the ears together."""
    said = refused(Clevis, ears__throat__clearance="0.6 mm")
    assert "ears.throat.clearance" in said and "does not fill the gap" in said
    Clevis.model_validate(changed(Clevis, ears__throat__clearance="0.5 mm"))


def test_one_swing_for_throat_and_rod_end() -> None:
    throat = Clevis.model_validate(changed(Clevis)).ears.throat
    assert isinstance(throat, RodEndThroat)
    assert throat.swing() == swing(throat.rod_end, throat.width)


@pytest.mark.parametrize(
    ("family", "changes", "words"),
    [
        (Clevis, {"shank__thread": "7/16-20 UNF-2B"}, "class of nuts"),
        (Turnbuckle, {"end_b__rod_end": "M10 male RH"}, "turning the body changes no length"),
    ],
)
def test_threads_that_do_not_go_together(family, changes, words) -> None:
    assert words in refused(family, **changes)


def test_a_turnbuckle_may_be_differential() -> None:
    """Both right-hand, pitches 1.5 and 1.25 mm: turning the body still changes its length, by 0.25 mm."""
    data = changed(Turnbuckle, end_b__rod_end="M10x1.25 male RH")
    assert Turnbuckle.model_validate(data).link.per_turn == pytest.approx(0.25)


def test_a_tapped_boss_is_not_named_by_a_class_of_bolts() -> None:
    data = stated("female thread")
    data["shank"]["thread"] = "M8-6g LH"
    with pytest.raises(ValidationError, match="class of bolts"):
        Clevis.model_validate(data)


def test_the_wall_around_a_bearing_of_an_arm() -> None:
    """A 10 mm spherical is 22 mm outside: 3 mm of wall, so an eye of 28 mm and no less."""
    eye = {
        "type": "eye", "diameter": "28 mm", "width": "11 mm",
        "bore": {"type": "spherical", "bearing": "10 mm spherical"},
        "pin": {"diameter": "10 mm", "material": "4340 Q&T 150 ksi", "ear": "8 mm"},
    }  # fmt: skip
    said = refused(TorsionArm, end=eye | {"diameter": "24.5 mm"})
    assert "too thin to hold it round" in said


def test_a_bolt_is_the_pin() -> None:
    """AN6: 3/8 in of 125 ksi steel, shear 75 ksi; its grip reaches the last shear plane."""
    part = clevis(ears__pin={"bolt": "AN6", "hole": {"type": "reamed", "fit": "H7"}})
    pin = part.ears.pin
    assert pin.diameter == pytest.approx(bolt("AN6-14A").shank)
    assert pin.material.ultimate_strength == pytest.approx(125 * 6.894757)
    assert pin.material.shear_ultimate == pytest.approx(75 * 6.894757)
    joint = part.ears.kept()
    assert joint.bolt.grip >= part.ears.thickness + part.ears.throat.width
    assert joint.bolt.grip <= part.ears.height + 3 * joint.washer.thickness
    assert [b.designation for b in part.bought()][:2] == [
        joint.bolt.designation, "nut 3/8-24 UNF nylon insert"
    ]  # fmt: skip
    shear = next(c for c in part.check().checks if c.name == "ear pin, shear")
    assert shear.capacity == pytest.approx(75 * 6.894757)


def test_a_bolt_states_its_own_diameter() -> None:
    said = refused(Clevis, ears__pin={"bolt": "AN6", "diameter": "3/8 in"})
    assert "a bolt states its own diameter" in said
    assert "a pin needs its material" in refused(Clevis, ears__pin={"diameter": "3/8 in"})
    assert "AN" in refused(Clevis, ears__pin={"bolt": "AN66"})


def test_no_length_of_a_bolt_goes_with_the_ears() -> None:
    """M10 lengths go by fives from 20 mm: a stack whose last plane and nut fall between them is refused."""
    part = clevis(ears__pin={"bolt": "AN6"})
    thickness = np.array([6.0, 200.0])
    many = with_values(part, {"ears.thickness": thickness})
    rule = next(rule for rule in many.rules() if rule.code == "pin.length")
    assert list(rule.ok) == [True, False]
    assert "no length of it has a grip" in rule.why


def test_bolts_of_a_pad_against_what_they_clamp() -> None:
    """Pad 8 on 4 mm: 12 + washer 1.6 + nut 6 + a pitch of 1 = 20.6 mm of M6, so 20 is short and 25 goes."""
    pad = {**PAD, "onto": 4}
    with pytest.raises(ValidationError, match="would not stand one thread through"):
        clevis(shank="pad", shank__onto=4, shank__bolts={"bolt": "M6x16 8.8"})
    part = clevis(shank="pad", shank__onto=4, shank__bolts={"bolt": "M6x25 8.8"})
    bought = {b.designation: b.quantity for b in part.bought()}
    assert bought["M6x25 8.8"] == bought["nut M6x1 nylon insert"] == len(pad["at"])


@pytest.mark.parametrize(
    ("family", "changes", "words"),
    [
        (Clevis, {"material": "Ti-6Al-4V annealed"}, "rod end 3/8-24 male RH (zinc)"),
        (Turnbuckle, {}, "rod end, jam nut (zinc) on 7075-T6"),
        (AdjustableLink,
         {"material": "Ti-3Al-2.5V annealed", "body__weld": {"type": "groove", "filler": "ERTi-9"}},
         "jam nut (zinc)"),
        (TorsionArm, {"material": "Ti-6Al-4V annealed"}, "torsion bar, 51CrV4"),
    ],
)  # fmt: skip
def test_metals_that_corrode_one_another_are_said(family, changes, words) -> None:
    part = family.model_validate(changed(family, **changes))
    assert any(words in caution and "corrodes" in caution for caution in part.cautions())


def test_a_steel_part_with_plated_hardware_has_no_such_caution() -> None:
    for family in (Clevis, AdjustableLink, Gusset):
        part = family.model_validate(dict(family.example))
        assert not any("corrodes" in caution for caution in part.cautions())


def test_a_clevis_pin_is_the_pin() -> None:
    """ISO 2341 B 10: 10 mm of steel of at least 125 HV; the shortest length whose split pin clears the stack."""
    pin = {"clevis_pin": "ISO 2341 B 10", "hole": {"type": "reamed", "fit": "H11"}}
    throat = {"type": "blade", "thickness": "10 mm", "end": "10 mm"}
    part = Clevis.model_validate(changed(Clevis, ears__pin=pin, ears__throat=throat))
    assert part.ears.pin.diameter == 10.0
    assert part.ears.pin.material.ultimate_strength == CLEVIS_PIN_STEEL.ultimate
    kept = part.ears.kept()
    assert 0.0 <= kept.slack == pytest.approx(kept.pin.grip - part.ears.height)
    shorter = [each for each in clevis_pins("ISO 2341 B 10") if each.length < kept.pin.length]
    assert all(each.grip < part.ears.height for each in shorter)
    assert [b.designation for b in part.bought()][:2] == [
        f"clevis pin {kept.pin.designation}", f"split pin for a {kept.pin.hole:g} mm hole",
    ]  # fmt: skip
    assert "split pin" in " ".join(part.cautions())
    shear = next(c for c in part.check().checks if c.name == "ear pin, shear")
    assert shear.capacity == CLEVIS_PIN_STEEL.shear


@pytest.mark.parametrize(
    ("pin", "said"),
    [
        ({"clevis_pin": "ISO 2341 B 10", "bolt": "AN6"}, "a `bolt` or a `clevis_pin`, not both"),
        ({"clevis_pin": "ISO 2341 B 11"}, "nearest: ISO 2341 B 10"),
        ({"clevis_pin": "ISO 2341 B 10 x 60"}, "right would be diameter x length"),
        ({"clevis_pin": "ISO 2341 A 10"}, "form A has no hole for the split pin"),
        ({"clevis_pin": "ISO 2341 B 10", "material": "4130 normalized"}, "states its own material"),
        ({"bolt": "M5 8.8", "hole": {"type": "tapped", "thread": "M5"}}, "goes through both ears"),
    ],
)
def test_pins_that_cannot_be(pin: dict[str, object], said: str) -> None:
    assert said in refused(Clevis, ears__pin=pin)


def test_an_eye_takes_a_bolt_whose_grip_comes_from_its_stack() -> None:
    eye = {
        "type": "eye", "diameter": "30 mm", "width": "20 mm", "bore": {"type": "plain"},
        "pin": {"bolt": "M10 10.9", "ear": "8 mm"},
    }  # fmt: skip
    part = TorsionArm.model_validate(changed(TorsionArm, end=eye))
    deep = 20.0 + 2.0 * (8.0 + part.end.pin.gap)
    joint = part.end.pin.kept(part.end.stack, part.end.last_plane)
    assert part.end.stack == pytest.approx(deep)
    assert plain_shank(joint.bolt) >= deep - 8.0 and joint.bolt.length > deep
    assert joint.bolt.designation in {b.designation for b in part.bought()}
    assert "no length of it has a grip" in refused(
        TorsionArm, end=eye | {"pin": {"bolt": "M10 10.9", "ear": "120 mm"}}
    )


def test_a_tab_takes_a_bolt_through_what_stands_beside_it() -> None:
    """0.090 in of sheet and 19 mm of ball and spacers are 21.29 mm. A grip of 13/16 in would do, but ends 0.3 mm short
    of a thread through washer and nut; 14/16 in, 22.2 mm, stays below stack and washer."""
    tab = {
        "along": 0.5, "reach": "22 mm", "width": "32 mm", "beside": "19 mm",
        "pin": {"bolt": "NAS6306", "hole": {"type": "clearance", "gap": "0.2 mm"}},
    }  # fmt: skip
    part = Gusset.model_validate(changed(Gusset, tab=tab))
    names = [b.designation for b in part.bought()]
    assert names[:2] == ["NAS6306-D14", "nut 3/8-24 UNF slotted, stainless"]
    loose = Gusset.model_validate(
        changed(Gusset, tab={k: v for k, v in tab.items() if k != "beside"})
    )
    assert "bolt NAS6306" in loose.bought()[0].designation


def test_bare_stainless_bolts_on_titanium_say_no_cadmium() -> None:
    cadmium, bare = (
        " ".join(clevis(material="Ti-6Al-4V annealed", ears__pin={"bolt": size}).cautions())
        for size in ("NAS6606", "NAS6306")
    )
    assert "no cadmium against titanium" in cadmium
    assert "no cadmium against titanium" not in bare and "stainless 18Cr" in bare


def test_bolts_of_a_pad_take_their_length_from_the_stack() -> None:
    """Pad 8 on 4 mm: 12 + washer 1.6 + nut 8 + a pitch of 1 = 22.6 mm of M6, so 25 is the next length."""
    part = clevis(shank="pad", shank__onto=4, shank__bolts={"bolt": "M6 8.8"})
    assert "M6x25 8.8" in {b.designation for b in part.bought()}
    assert part.shank.bolts.strengths.ultimate == 800.0
    with pytest.raises(ValidationError, match="no length of it has a grip"):
        clevis(shank="pad", shank__onto=300, shank__bolts={"bolt": "M6 8.8"})
    with pytest.raises(ValidationError, match="M6x25"):
        clevis(shank="pad", shank__onto=4, shank__bolts={"bolt": "M6x26 8.8"})


def test_a_spotface_clears_its_washer() -> None:
    """ISO 7089: the washer of M8 is 16 mm across."""
    hole = {"type": "spotfaced", "depth": "1 mm"}
    mounts = [{**one, "hole": hole} for one in FootControlBracket.example["mounts"]]
    part = FootControlBracket.model_validate(changed(FootControlBracket, mounts=mounts))
    assert part.mounts[0].sunk == 18.0


def test_a_joint_that_turns_on_its_bolt_has_a_slotted_nut() -> None:
    """The thread of NAS6306, 0.454 in, is too short for a nylon insert of 0.469 in; AN6 takes either."""
    blade = {"type": "blade", "thickness": "10 mm", "end": "12 mm"}

    def of(pin: dict[str, str]) -> Clevis:
        return Clevis.model_validate(changed(Clevis, ears__pin=pin, ears__throat=blade))

    drilled, locked, short = (
        of({"bolt": "AN6", "nut": "slotted"}),
        of({"bolt": "AN6"}),
        of({"bolt": "NAS6306"}),
    )
    assert [part.ears.kept().nut.form for part in (drilled, locked, short)] == [
        "slotted",
        "nylon insert",
        "slotted",
    ]
    # Mark A is the shank without the hole for a split pin, D the one with it.
    assert locked.ears.kept().bolt.designation.endswith("A")
    assert not drilled.ears.kept().bolt.designation.endswith("A")
    assert "-D" in short.ears.kept().bolt.designation
    assert "split pin for the slotted nut" in {b.designation for b in drilled.bought()}
    assert "take `nut: slotted`" in " ".join(locked.cautions())
    assert "take `nut: slotted`" not in " ".join(drilled.cautions())


@pytest.mark.parametrize(
    ("pin", "said"),
    [
        ({"bolt": "M10 10.9", "nut": "slotted"}, "not drilled for the split pin"),
        ({"clevis_pin": "ISO 2341 B 10", "nut": "slotted"}, "a `nut` goes with a `bolt`"),
        ({"bolt": "AN6", "nut": "wing"}, "nylon insert"),
    ],
)
def test_nuts_that_cannot_be(pin: dict[str, str], said: str) -> None:
    blade = {"type": "blade", "thickness": "10 mm", "end": "12 mm"}
    assert said in refused(Clevis, ears__pin=pin, ears__throat=blade)
