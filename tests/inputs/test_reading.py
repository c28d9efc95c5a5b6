"""From a YAML file to a model: what is right is read, what is wrong is said in whole sentences."""

import re
import time
from functools import cached_property
from typing import Annotated, Literal

import jsonschema
import numpy as np
import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, model_validator

from parts.inputs.problems import InputError, Problem
from parts.inputs.quantities import (
    Angle,
    ForceVector,
    Length,
    NonNegativeLength,
    Point3,
    PositiveLength,
)
from parts.inputs.reading import PartName, file_schema, read, read_text, with_values
from parts.standards.designation import UnknownDesignation


class Group(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


def known_thread(text):
    if text != "3/8-24 UNF":
        raise UnknownDesignation("thread", text, "no table holds it", ["3/8-24 UNF"])
    return text


class Ear(Group):
    thickness: PositiveLength
    width: Length = Field(30.0, gt=5.0)
    side: Literal["left", "right", "both sides"] = "both sides"


class MaleThread(Group):
    type: Literal["male thread"]
    thread: Annotated[str, BeforeValidator(known_thread)]
    engagement: Length


class WeldSpigot(Group):
    type: Literal["weld spigot"]
    diameter: PositiveLength


# A tag that is also a key of its own member.
class Tube(Group):
    type: Literal["tube"]
    tube: PositiveLength


class Throat(Group):
    width: PositiveLength = Field(description="Gap between the ears.")
    depth: NonNegativeLength


class Rule:
    code, field, how = "throat_too_narrow", "throat.width", "widen it to 10 mm"

    def wrong(self):
        return "the pin does not pass"


class Broken(ValueError):
    rules = (Rule(),)


Shank = Annotated[MaleThread | WeldSpigot | Tube, Field(discriminator="type")]


class Clevis(Group):
    family: Literal["clevis"] = "clevis"
    name: PartName
    throat: Throat
    ears: list[Ear] = Field(min_length=1, max_length=2)
    shank: Shank
    spares: list[Shank] = []
    spare: Shank | None = None
    pin: Length | Literal["auto"] = "auto"
    load: ForceVector = (0.0, 0.0, 0.0)
    at: Point3 | None = None
    lean: Angle = 0.0
    count: int = 2
    mirrored: bool = False
    factor: float = Field(1.5, ge=1.0, le=20.0)
    tags: dict[str, Length] = {}
    fit: str = Field("H7", pattern=r"^[A-Z]\d$", description="ISO 286 class of the hole.")
    title: str = Field("", max_length=20, description="What it is.")

    @cached_property
    def area(self):
        return self.throat.width * self.throat.depth

    @model_validator(mode="after")
    def _rules(self):
        if np.any(self.throat.width < 10.0):
            raise Broken
        if self.count == 7:
            raise ValueError("seven pins do not fit; use six")
        if self.count == 0:
            assert self.throat.width / self.count
        return self


FAMILIES = {"clevis": Clevis, "gusset": Throat}

BASE = """\
family: clevis
name: HC-104
throat: {width: 12 mm, depth: 1-1/4"}
ears:
- thickness: 3/8 in
shank:
  type: male thread
  thread: 3/8-24 UNF
  engagement: 15 mm
"""


def told(text, *changes):
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    with pytest.raises(InputError) as caught:
        read_text(text, FAMILIES, "HC-104.yaml")
    return str(caught.value).removeprefix("HC-104.yaml:").split("\nHC-104.yaml:")


def test_a_file_becomes_a_model_in_inside_units(tmp_path):
    file = tmp_path / "HC-104.yaml"
    file.write_text(BASE + "load: {z: -2 kN}\nlean: 90\npin: 1/2 in\n")
    part = read(file, FAMILIES)
    assert type(part) is Clevis
    assert (part.throat.width, part.throat.depth, part.ears[0].thickness) == (12.0, 31.75, 9.525)
    assert (part.load, part.lean, part.pin) == ((0.0, 0.0, -2000.0), np.pi / 2, 12.7)
    assert part.shank.engagement == 15.0


def test_declared_units_are_those_of_bare_numbers_and_never_of_defaults():
    part = read_text("units: in\n" + BASE + "pin: 1/2\n", FAMILIES)
    assert part.pin == 12.7
    assert part.ears[0].width == 30.0
    both = read_text(
        "units: {length: mm, force: lbf}\n" + BASE + "pin: 12\nload: [1, 0, 0]\n", FAMILIES
    )
    assert (both.pin, both.load[0]) == (12.0, pytest.approx(4.448222, rel=5e-7))


def test_the_family_key_need_not_be_a_field():
    assert read_text("family: gusset\nwidth: 1 mm\ndepth: 0\n", FAMILIES) == Throat(
        width=1, depth=0
    )


A_LENGTH = "write a length, as in `12 mm` or `3/8 in`"
SHANKS = "write one of `male thread`, `weld spigot` and `tube`"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("12 mm", "12", "3:17: throat.width: no unit (value 12); "
         "write `12 mm`, or declare `units: mm` at the top"),
        ("12 mm", "12 kg", f"3:17: throat.width: `12 kg` is a mass, not a length; {A_LENGTH}"),
        ("12 mm", "", f"3:17: throat.width: nothing is written here; {A_LENGTH}"),
        ("12 mm", "-12 mm", "3:17: throat.width: this length is negative (value -12 mm); "
         "write more than 0"),
        ("12 mm", "8 mm", "3:17: throat.width: the pin does not pass (value 8 mm); widen it to 10 mm"),
        ("width:", "wdith:", "3:10: throat.wdith: `wdith` is no key here; nearest is `width`"),
        ("width: 12 mm, ", "", "3:1: throat.width: `width` is missing; "
         "write `width: 12 mm`, with your own figure (gap between the ears)"),
        ("{width: 12 mm, depth: 1-1/4\"}", "3", "3:9: throat: `3` is not a group of keys; "
         "write a group of keys"),
        ("- thickness: 3/8 in", "- thickness: wide", "5:14: ears[1].thickness: "
         f"`wide` is not a length; {A_LENGTH}"),
        ("- thickness: 3/8 in", "- {thickness: 1 in, side: both side}", "5:27: ears[1].side: "
         "`both side` is no choice here; nearest is `both sides`; "
         "write one of `left`, `right` and `both sides`"),
        ("- thickness: 3/8 in", "- {thickness: 1 in, width: 3 mm}", "5:28: ears[1].width: "
         "`3 mm` is not more than 5 mm (0.1969 in); write more than 5 mm (0.1969 in)"),
        ("- thickness: 3/8 in", "  thickness: 3 mm", "5:3: ears: a group of keys is not a list; "
         "write a list"),
        ("- thickness: 3/8 in", "  []", "5:3: ears: the list is too short; write at least 1 entry"),
        ("- thickness: 3/8 in", "- thickness: 3/8 in\n" * 3, "5:1: ears: the list is too long; "
         "write at most 2 entries"),
        ("male thread", "male thred", "7:9: shank.type: `male thred` is no choice here; "
         f"nearest is `male thread`; {SHANKS}"),
        ("  type: male thread\n", "", "6:1: shank.type: `type` is missing; "
         "write `type:` with one of `male thread`, `weld spigot` and `tube`"),
        ("  engagement: 15 mm", "", "6:1: shank.engagement: `engagement` is missing; "
         "write `engagement: 12 mm`, with your own figure"),
        ("male thread", "null", f"7:9: shank.type: nothing is no choice here; {SHANKS}"),
        ("male thread", "[1]", f"7:9: shank.type: a list is no choice here; {SHANKS}"),
        ("12 mm", "null", f"3:17: throat.width: nothing is written here; {A_LENGTH}"),
        ("15 mm", "15 N", f"9:15: shank.engagement: `15 N` is a force, not a length; {A_LENGTH}"),
        ("3/8-24 UNF", "3/8-25", "8:11: shank.thread: thread `3/8-25`: no table holds it; "
         "nearest: 3/8-24 UNF"),
        ("HC-104", "../HC-104", "2:7: name: this cannot name a folder (value ../HC-104); use letters, "
         "digits, spaces and - _ . in it, beginning with a letter, digit or _, ending with no space "
         "or dot, and with no two dots together"),
        ("clevis", "clevs", "1:9: family: there is no family `clevs`; nearest is `clevis`; "
         "the families are `clevis`, `gusset`"),
        ("family: clevis\n", "", "1:1: family: `family` is missing; "
         "the families are `clevis`, `gusset`"),
        ("clevis", "[clevis]", "1:9: family: no family is named; the families are `clevis`, `gusset`"),
    ],
)  # fmt: skip
def test_one_thing_wrong_is_one_sentence(old, new, message):
    assert told(BASE, (old, new)) == [message]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("depth: 3 mm", "depth: `depth` is no key here; `depth` belongs in `throat`"),
        ("thickness: 3 mm", "thickness: `thickness` is no key here; `thickness` belongs in `ears`"),
        ("unit: mm", "unit: `unit` is no key here; nearest is `units`"),
        ("pin: 12 kg", f"pin: `12 kg` is a mass, not a length; {A_LENGTH}, or write `auto`"),
        ("load: [1 N, x, 0]", "load[2]: `x` is not a force; write a force, as in `1500 N` or `250 lbf`"),
        ("load: {y: 2 kg}", "load.y: `2 kg` is a mass, not a force; "
         "write a force, as in `1500 N` or `250 lbf`"),
        ("at: [1 mm]", "at: 1 values where 3 are needed; write [12 mm, 0, 0] or {x: 12 mm}"),
        ("lean: steep", "lean: `steep` is not an angle; write an angle, as in `30 deg` or `0.5 rad`"),
        ("count: 2.5", "count: `2.5` is not a whole number; write a whole number"),
        ("count: two", "count: `two` is not a whole number; write a whole number"),
        ("count: true", "count: `true` is not a number; write a number"),
        ("count: 7", "seven pins do not fit; use six"),
        ("count: 0", "these values cannot be calculated with (ZeroDivisionError: float division by zero); "
         "look for a dimension that is zero or huge"),
        ("factor: true", "factor: `true` is not a number; write a number"),
        ("factor: 30", "factor: `30` is more than 20; write at most 20"),
        ("factor: 0.5", "factor: `0.5` is less than 1; write at least 1"),
        ("mirrored: yes", "mirrored: `yes` is not true or false; write true or false"),
        ("mirrored: 1", "mirrored: `1` is not true or false; write true or false"),
        ("tags: {a: q}", f"tags.a: `q` is not a length; {A_LENGTH}"),
        ("tags: [1]", "tags: a list is not a group of keys; write a group of keys"),
        ("fit: h 7", "fit: `h 7` is not of the form needed here; ISO 286 class of the hole"),
        ("title: 12", "title: `12` is not text; put it in quotes"),
        ("title: a title that is far too long", "title: the text is too long "
         "(value a title that is far too long); write at most 20 characters"),
        ("spare: {type: weld spigot, diamter: 3 mm}",
         "spare.diamter: `diamter` is no key here; nearest is `diameter`"),
        ("spare: {type: tube, tube: 3 kg}", f"spare.tube: `3 kg` is a mass, not a length; {A_LENGTH}"),
        ("spares: [{type: tube, tube: 1 mm}, {type: tub}]",
         f"spares[2].type: `tub` is no choice here; nearest is `tube`; {SHANKS}"),
        ("spare: [1]", "spare: a list is not a group of keys; write a group of keys"),
        ("units: kg", "units: `kg` is a unit of mass; a length is in mm, cm, m, in, ft, thou"),
        ("units: MM", "units: `MM` is no unit known here; nearest is `mm`; a length is in mm, cm, m, in, ft, thou"),
        ("units: {force: oomph}", "units.force: `oomph` is no unit known here; "
         "a force is in N, kN, lbf, kip, kgf"),
        ("units: {speed: mm}", "units.speed: `speed` has no units (value mm); right are `length`, "
         "`force`, `moment`, `stress`, `mass`, `angle`"),
        ("units: 3", "units: no unit is named (value 3); "
         "write `units: mm` or `units: {length: in, force: lbf}`"),
        ("units: {length: }", "units.length: no unit is named; a length is in mm, cm, m, in, ft, thou"),
    ],
)  # fmt: skip
def test_one_line_too_many_is_one_sentence(line, message):
    (said,) = told(BASE + line + "\n")
    assert re.sub(r"^\d+:\d+: ", "", said) == message
    assert said.startswith(("10:", "1:1: "))


def test_everything_wrong_is_said_at_once_by_line():
    said = told(BASE, ("12 mm", "12 kg"), ("3/8 in", "3/8 inn"), ("engagement", "engagment"))
    assert [line.split(": ")[:2] for line in said] == [
        ["3:17", "throat.width"],
        ["5:14", "ears[1].thickness"],
        ["9:3", "shank.engagment"],
    ]


def test_problems_are_values():
    with pytest.raises(InputError) as caught:
        read_text(BASE.replace("12 mm", "12 kg"), FAMILIES, "HC-104.yaml")
    (problem,) = caught.value.problems
    assert problem == Problem(
        "wrong_kind", "HC-104.yaml", 3, 17, "throat.width", "12 kg",
        "`12 kg` is a mass, not a length", A_LENGTH,
    )  # fmt: skip


def test_what_a_terminal_would_obey_is_not_repeated():
    assert "\x1b" not in told(BASE + 'pin: "\\e[2J"\n')[0]


def test_many_problems_are_cut_short():
    with pytest.raises(InputError) as caught:
        read_text(BASE + "tags: {" + ", ".join(f"k{i}: x" for i in range(150)) + "}\n", FAMILIES)
    said = str(caught.value).splitlines()
    assert len(said) == 41
    assert said[-1] == "at least 61 more problems; mend these first"


@pytest.mark.parametrize(
    "name", ["HC-104", "104", "left ear v2.1", "_x", "a", "a" * 64, "com", "console"]
)
def test_names_that_may_name_a_folder(name):
    assert read_text(BASE.replace("HC-104", name), FAMILIES).name == name


@pytest.mark.parametrize(
    "name",
    ["a/b", "a\\\\b", "..", ".x", "a..b", "-x", "a ", "a.", "CON", "nul.txt", "com1", "LPT9.x", "a:b",
     "a*", "index.html", "gauge", "Gauge", "é", "a\\n", "a" * 65, "", "~", "$HOME", "a\\0"],
)  # fmt: skip
def test_names_that_may_not(name):
    assert len(told(BASE, ("HC-104", f'"{name}"'))) == 1


@pytest.mark.parametrize("name", ["", "null", "~", '""'])
def test_a_name_that_is_not_there_is_called_empty(name):
    (said,) = told(BASE, ("HC-104", name))
    assert "the name is empty; write a part number" in said


@pytest.mark.parametrize("name", ["1.5", "true", "", "[a]", "{a: b}", "null"])
def test_a_name_is_text(name):
    assert len(told(BASE, ("HC-104", name))) == 1


def test_values_are_replaced_in_a_copy():
    part = read_text(BASE, FAMILIES)
    assert part.area == 12.0 * 31.75
    widths = np.array([10.0, 20.0])
    swept = with_values(part, {"throat.width": widths, "ears[1].thickness": 6.0})
    np.testing.assert_array_equal(swept.area, widths * 31.75)
    assert swept.ears[0].thickness == 6.0
    assert (part.throat.width, part.area, part.ears[0].thickness) == (12.0, 12.0 * 31.75, 9.525)


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("throat.widht", "there is no `throat.widht` here; nearest is `width`"),
        ("ears.thickness", "there is no `ears.thickness` here; it has 1 entries, [1] to [1]"),
        ("ears[4].thickness", "there is no `ears[4]` here; it has 1 entries, [1] to [1]"),
        ("finish", "there is no `finish` here"),
        ("throat.width.x", "there is no `throat.width.x` here"),
    ],
)
def test_paths_that_name_nothing_are_refused(path, message):
    with pytest.raises(KeyError) as caught:
        with_values(read_text(BASE, FAMILIES), {path: 1.0})
    assert caught.value.args == (message,)


def test_the_schema_of_a_file_takes_a_file():
    schema = file_schema(Clevis)
    jsonschema.validate(yaml.safe_load("units: in\n" + BASE), schema)
    jsonschema.validate(yaml.safe_load("units: {length: in, force: lbf}\n" + BASE), schema)
    for wrong in ("units: 3\n", "unit: in\n", "units: {speed: x}\n"):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(yaml.safe_load(wrong + BASE), schema)


def test_python_numbers_are_inside_units():
    assert Throat(width=12, depth="1 in").width == 12.0
    with pytest.raises(ValidationError, match="this length is negative"):
        Throat(width=-1, depth=0)


words = st.sampled_from(
    ["12 mm", "3/8 in", "12", "-1", "0", "true", "null", "x", "male thread", "weld spigot", "tube",
     "[]", "{}", "[1, 2]", "{x: 1}", "{type: tube, tube: 1 mm}", "[{thickness: 1 mm}]", ".inf", "1e300",
     "*a", "&a 1", "!t x", "'", "\"", "@", "clevis", "1e-300 mm", "99999999999999999999999"],
)  # fmt: skip
keys = st.sampled_from([*Clevis.model_fields, "units", "zz", "throat", "shank", "ears"])


@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.lists(st.tuples(keys, words | st.text(max_size=6)), max_size=6), st.booleans())
def test_no_content_raises_anything_else(lines, on_top_of_a_good_file):
    text = (BASE if on_top_of_a_good_file else "family: clevis\n") + "".join(
        f"{key}: {word}\n" for key, word in lines
    )
    try:
        read_text(text, FAMILIES)
    except InputError as error:
        assert all(p.code and p.wrong and p.right and p.file for p in error.problems)
        assert str(error)


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_any_value_in_any_place_of_a_good_file(data):
    good = yaml.safe_load(BASE)
    path = data.draw(st.sampled_from([("name",), ("throat",), ("throat", "width"), ("ears",),
                                      ("ears", 0), ("ears", 0, "thickness"), ("shank",),
                                      ("shank", "type"), ("shank", "thread")]))  # fmt: skip
    inner = good
    for step in path[:-1]:
        inner = inner[step]
    scalars = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5)
    inner[path[-1]] = data.draw(
        scalars
        | st.lists(scalars, max_size=3)
        | st.dictionaries(st.text(max_size=5), scalars, max_size=3)
    )
    text = yaml.safe_dump(good, sort_keys=False)
    try:
        read_text(text, FAMILIES)
    except InputError as error:
        for problem in error.problems:
            assert 0 < problem.line <= text.count("\n") + 1


def test_reading_is_quick_even_where_all_is_wrong():
    text = "family: clevis\n" + "\n".join(f"key{i}: {{a: [1, 2]}}" for i in range(4000))
    # Processor time: what else the machine does is not the reader's cost.
    begin = time.process_time()
    told(text)
    assert time.process_time() - begin < 1.0
