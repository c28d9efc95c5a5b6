"""A file after changes: the changed values alone differ, and it reads as it should."""

from pathlib import Path

import pytest
import yaml

from parts.inputs.document import parse_document
from parts.inputs.edited import Edit, NotEdited, edited

PARAMS = sorted((Path(__file__).parents[2] / "params").glob("hc-10[14]*.yaml"))
TEXT = """\
# Off the mock-up.
family: bracket   # ä, β: two letters that are no ASCII
plate:
  thickness: 24         # 16 bears the rider
  title: "left  one"    # quoted
mounts:
  - at: [0, 0]          # lower
    boss: {diameter: 24, inner: 6}      # clears
  # the tab
  - at: {x: 12 mm, y: 3/8 in}
    onto: 4
empty:

last: 'it''s'  # end
"""


@pytest.mark.parametrize(
    "edit, before, after",
    [
        (Edit(("plate", "thickness"), "1-1/4 in"), "24         # 16", "1-1/4 in   # 16"),
        (Edit(("plate", "title"), "right: one"), '"left  one"    # q', '"right: one"   # q'),
        (Edit(("mounts", 0, "at", 1), "-3 mm"), "[0, 0]          # lower", "[0, -3 mm]      # lower"),
        (Edit(("mounts", 1, "at", 1), "22"), "y: 3/8 in", "y: 22"),
        (Edit(("mounts", 0, "boss", "fillet"), "2"), "inner: 6}      #", "inner: 6, fillet: 2}      #"),
        (Edit(("mounts", 0, "boss", "inner"), does="drop"), ", inner: 6", ""),
        (Edit(("mounts", 0, "boss", "diameter"), does="drop"), "diameter: 24, ", ""),
        (Edit(("mounts", 0, "at"), does="drop"), "at: [0, 0]          # lower\n    ", ""),
        (Edit(("mounts", 1), does="drop"), "  - at: {x: 12 mm, y: 3/8 in}\n    onto: 4\n", ""),
        (Edit(("mounts", 1, "bolt"), "M8"), "onto: 4\n", "onto: 4\n    bolt: M8\n"),
        (Edit(("plate", "web"), "6", order=("thickness", "web", "title")), "rider\n", "rider\n  web: 6\n"),
        (Edit(("empty",), "a, b"), "empty:\n", "empty: a, b\n"),
        (Edit(("empty", "x"), "1"), "empty:\n", "empty: {x: 1}\n"),
        (Edit(("last",), "its"), "'it''s'  # end", "'its'    # end"),
        (Edit(("new", "hole", "type"), "slot"), "# end\n", "# end\nnew:\n  hole:\n    type: slot\n"),
        (Edit(("mounts",), {"at": [1, 2], "hole": {"type": "slot"}}, "add"), "onto: 4\n",
         "onto: 4\n  - at: [1, 2]\n    hole:\n      type: slot\n"),
        (Edit(("plate",), {"a": 1}),
         '  thickness: 24         # 16 bears the rider\n  title: "left  one"    #', "  a: 1    #"),
        (Edit(("plate", "title"), does="drop"), '  title: "left  one"    # quoted\n', ""),
    ],
)  # fmt: skip
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_one_place_changes_and_no_other(edit, before, after, newline):
    assert TEXT.count(before) == 1
    expected = TEXT.replace(before, after).replace("\n", newline)
    assert edited(TEXT.replace("\n", newline), [edit]) == expected


def test_what_a_group_loses_last_leaves_an_empty_one():
    assert (
        edited("a:\n  b: 1  # one\nc: 2\n", [Edit(("a", "b"), does="drop")])
        == "a: {}  # one\nc: 2\n"
    )
    assert edited("a:\n  - b: 1\n", [Edit(("a", 0, "b"), does="drop")]) == "a:\n  - {}\n"


def test_a_value_that_is_marked_keeps_its_mark_and_an_alias_is_written_out():
    text = "a: &w 12 mm\nb: *w\nc: &g {d: 1}\ne: *g\n"
    assert edited(text, [Edit(("a",), "14 mm")]).startswith("a: &w 14 mm\n")
    assert "b: 3\n" in edited(text, [Edit(("b",), "3")])
    with pytest.raises(NotEdited, match="&g"):
        edited(text, [Edit(("e", "d"), "2")])
    with pytest.raises(NotEdited, match="no place"):
        edited(text, [Edit(("a", "d"), "2")])


@pytest.mark.parametrize("text", ["22", "3/8 in", "1-1/4 in", "a: b", "# no", "- x", "it's", "[1", "*x", "&y", "null x",
                                  "12:30",
                                  "x #y", "!t", "%d", "é", "a,b", "{", "@", 'say "so"', "?", "-", "x:"])  # fmt: skip
@pytest.mark.parametrize(
    "path", [("plate", "thickness"), ("plate", "title"), ("mounts", 0, "boss", "inner"), ("last",)]
)
def test_what_was_typed_is_what_is_read(text, path):
    found = parse_document(edited(TEXT, [Edit(path, text)]).encode(), "x").node(path)
    assert found.text == text


@pytest.mark.parametrize("file", PARAMS, ids=lambda one: one.name)
def test_each_value_of_the_demo_is_changed_alone(file):
    text = file.read_text()
    document = parse_document(text.encode(), "x")

    def leaves(node, path=()):
        if not node.children:
            yield path
        for step, inner in node.children.items():
            yield from leaves(inner, (*path, step))

    for path in leaves(document.root):
        changed = edited(text, [Edit(path, "17.5 mm")])
        back = edited(changed, [Edit(path, document.node(path).text)])
        assert back.split() == text.split()
        data, other = (yaml.load(one, yaml.CSafeLoader) for one in (text, changed))
        for one in (data, other):
            *around, last = path
            for step in around:
                one = one[step]
            one[last] = 0
        assert data == other
        lines = [a == b for a, b in zip(text.splitlines(), changed.splitlines(), strict=True)]
        assert lines.count(False) == 1
