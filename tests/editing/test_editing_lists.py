"""Entries of lists, and groups that may be absent: put on from what stands there, taken away, read as meant."""

import pytest

from parts.editing.answer import unloaded
from parts.editing.fields import fields_of
from parts.editing.plan import plan_of
from parts.editing.reading import Reader
from parts.editing.typed import can_be, chosen, edits_of, one_more
from parts.families import families
from parts.inputs.document import steps_of
from parts.inputs.edited import edited
from parts.report.starter import starter

MANY = ("foot-control bracket", "coped tube", "mount plate", "sheet bracket", "clevis")


class Hand:
    """A family's first file in hand."""

    def __init__(self, name, folder):
        self.family = families()[name]
        self.text = starter(self.family, name="HC-170")
        self.file = folder / "part.yaml"
        self.file.write_text(self.text)
        self.reader = Reader(self.file)

    def part(self, text=None):
        return self.reader.part({str(self.file): text or self.text})

    def fields(self):
        return {one["path"]: one for one in fields_of(self.part(), self.document())}

    def document(self):
        return self.reader.document({str(self.file): self.text})

    def reads(self, edits):
        return can_be(lambda: self.part(edited(self.text, edits)))

    def more(self, path):
        plan = plan_of(self.part(), self.document()) or {"handles": []}
        places = {one["path"]: one["at"] for one in plan["handles"]}
        points = list(self.part().points())
        edits = one_more(path, self.document(), self.family, places, points, self.reads)
        return edited(self.text, edits)


@pytest.fixture
def bracket(tmp_path):
    return Hand("foot-control bracket", tmp_path)


def test_the_plan_calls_its_places_as_checks_do(bracket):
    names = {
        one["path"]: one["name"] for one in plan_of(bracket.part(), bracket.document())["handles"]
    }
    checks = [one.name for case in bracket.part().loads for one in bracket.part().modes(case)]
    for path in ("mounts[1].at", "mounts[2].at", "mounts[3].at", "peg.at"):
        assert any(one.startswith(names[path]) for one in checks), path


def test_one_mount_more_stands_beside_the_last_and_all_else_of_the_file_stays(bracket):
    new = bracket.more("mounts")
    before, after = bracket.part(), bracket.part(new)
    assert [one.bolt_class for one in after.mounts] == [
        "10.9"
    ] * 4  # text, though it looks like a number
    away = [abs(a - b) for a, b in zip(after.mounts[3].at, before.mounts[2].at, strict=True)]
    assert sorted(away) == pytest.approx([0.0, 25.0])
    added = [one for one in new.splitlines() if one not in bracket.text.splitlines()]
    assert added == ["  - at: [45 mm, 85 mm]", "    thread: M8", '    bolt_class: "10.9"']
    taken = edited(
        new,
        edits_of(
            {"path": "mounts[4]", "drop": True}, bracket.reader.document({str(bracket.file): new})
        ),
    )
    assert taken == bracket.text


def test_a_load_more_takes_a_point_that_bears_none_yet(bracket):
    pedal = chosen("pedal", "stub", bracket.document(), bracket.family, bracket.reads)
    bracket.text = edited(bracket.text, pedal)
    assert unloaded(bracket.part()) == ["pedal"]
    new = bracket.more("loads[1].forces")
    assert [one.at for one in bracket.part(new).loads[0].forces] == ["peg", "pedal"]
    assert unloaded(bracket.part(new)) == []


def test_a_second_load_case_has_a_name_of_its_own(bracket):
    names = [one.name for one in bracket.part(bracket.more("loads")).loads]
    assert names == ["standing on one peg", "standing on one peg 2"]


def test_a_group_without_options_is_there_or_not(bracket):
    assert bracket.fields()["master_cylinder"]["choices"] == ("none", "there")
    new = edited(
        bracket.text,
        chosen("master_cylinder", "there", bracket.document(), bracket.family, bracket.reads),
    )
    assert bracket.part(new).master_cylinder is not None
    bracket.text = new
    gone = edited(
        new, chosen("master_cylinder", "none", bracket.document(), bracket.family, bracket.reads)
    )
    assert bracket.part(gone).master_cylinder is None


@pytest.mark.parametrize("name", MANY)
def test_every_list_takes_one_more_or_says_at_its_field_why_not(name, tmp_path):
    hand = Hand(name, tmp_path)
    lists = [path for path, one in hand.fields().items() if one["kind"] == "list"]
    assert lists
    for path in lists:
        before = int(hand.fields()[path]["means"])
        document = hand.reader.document({str(hand.file): hand.more(path)})
        assert len(document.node(steps_of(path)).children) == before + 1, path


def test_text_that_looks_like_a_number_is_typed_as_it_is_said(bracket):
    field = bracket.fields()["mounts[1].bolt_class"]
    assert field["kind"] == "text"
    bracket.text = edited(
        bracket.text, edits_of({"path": "mounts[1].bolt_class", "drop": True}, bracket.document())
    )
    typed = edits_of({"path": "mounts[1].bolt_class", "value": "10.9"}, bracket.document(), "text")
    assert bracket.part(edited(bracket.text, typed)).mounts[0].bolt_class == "10.9"
