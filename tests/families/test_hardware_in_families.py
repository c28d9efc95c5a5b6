"""Bought-in hardware held against the families that take it: every rule reaches the builder, by hand."""

import copy

import numpy as np
import pytest
from clevises import PAD, clevis, stated
from pydantic import ValidationError

from parts.families.adjustable_link import AdjustableLink
from parts.families.clevis import Clevis
from parts.families.gusset import Gusset
from parts.families.torsion_arm import TorsionArm
from parts.families.turnbuckle import Turnbuckle
from parts.features.hardware import swing
from parts.features.throat import RodEndThroat
from parts.inputs.variants import with_values
from parts.standards.fasteners import bolt

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
    joint = part.ears.joint()
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
    rule = next(rule for rule in many.rules() if rule.code == "pin.bolt")
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
        (Turnbuckle, {}, "rod end (zinc) on 7075-T6"),
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
