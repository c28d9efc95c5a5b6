"""A YAML file becomes plain data with places; nothing in it can surprise or stall."""

import contextlib
import time

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.inputs import document
from parts.inputs.document import dotted, parse_document, read_document, steps_of
from parts.inputs.problems import InputError, Problem

SAMPLE = """\
family: clevis      # a comment
throat:
  width: 12 mm
ears:
- {thickness: 3/8 in, side: left}
- &second
  thickness: 10
copy: *second
"""


def parsed(text):
    return parse_document(text.encode(), "HC-101.yaml")


def refusal(content):
    with pytest.raises(InputError) as caught:
        parse_document(content if isinstance(content, bytes) else content.encode(), "HC-101.yaml")
    return str(caught.value)


def test_data_and_places():
    found = parsed(SAMPLE)
    assert found.data == {
        "family": "clevis",
        "throat": {"width": "12 mm"},
        "ears": [{"thickness": "3/8 in", "side": "left"}, {"thickness": 10}],
        "copy": {"thickness": 10},
    }
    assert found.place(("throat", "width")) == (3, 10)
    assert found.place(("throat", "width"), of_key=True) == (3, 3)
    assert found.place(("ears", 0, "side")) == (5, 29)
    assert found.place(("ears", 1, "thickness")) == (7, 14)
    # What an alias repeats stands where it was written.
    assert found.place(("copy", "thickness")) == (7, 14)
    # What is absent stands at what is around it.
    assert found.place(("throat", "depth")) == (2, 1)
    assert found.node(("ears", 0, "thickness")).text == "3/8 in"
    assert found.node(("ears", 7)) is None


@pytest.mark.parametrize("written", ["no", "on", "yes", "off", "True", "1:30", "010", "0x1F", "0o7",
                                     "1_000", "2026-01-01", "3/8", "1-1/4\"", "HC-101", "nan",
                                     "inf", "12 mm", "<<", "="])  # fmt: skip
def test_what_stays_text(written):
    assert parsed(f"a: {written}").data == {"a": written}
    assert parsed(f"{written}: a").data == {written: "a"}


@pytest.mark.parametrize(
    ("written", "value"),
    [("12", 12), ("-3", -3), ("+3", 3), ("0", 0), ("0.5", 0.5), (".5", 0.5), ("5.", 5.0),
     ("1e3", 1000.0), ("-1.5E-3", -0.0015), ("true", True), ("false", False), ("null", None),
     ("~", None), ("", None), ("'12'", "12"), ('"true"', "true")],
)  # fmt: skip
def test_what_is_a_number_a_truth_or_nothing(written, value):
    found = parsed(f"a: {written}").data["a"]
    assert found == value and type(found) is type(value)


NUMBER = "is not a finite number; write a number, or put text in quotes"
STAR = "text that begins with * goes in quotes"
BANG = "delete it, or put text that begins with ! in quotes"
COLON = (
    "this is not YAML: mapping values are not allowed in this context; "
    "there is a colon too many, or the line is indented too far"
)
EMPTY = ": the file is empty; begin with `family:` and `name:`"


@pytest.mark.parametrize(
    ("content", "message"),
    [
        ("a: 1\nb: 2\na: 3\n", ":3:1: `a` stands twice, first in line 1; keep one of them"),
        ("t:\n  w: 1\n  w: 2\n", ":3:3: t: `w` stands twice, first in line 2; keep one of them"),
        ("a:\n\tb: 1\n", ":2:1: the line is indented with a tab; use spaces"),
        (
            "a: 1\n---\nb: 2\n",
            ":2:1: a second document begins here; give each part a file of its own",
        ),
        ("", EMPTY),
        ("# nothing\n", EMPTY),
        ("a: !!python/name:x y\n", f":1:4: a: the tag !!python/name:x is not read here; {BANG}"),
        ("a: !!int '3'\n", f":1:4: a: the tag !!int is not read here; {BANG}"),
        ("a: [1, .nan]\n", f":1:8: a[2]: `.nan` {NUMBER}"),
        ("a: -.inf\n", f":1:4: a: `-.inf` {NUMBER}"),
        ("a: 1e999\n", f":1:4: a: `1e999` {NUMBER}"),
        ("a: &x [*x]\n", f":1:8: a[1]: nothing finished above is marked &x; {STAR}"),
        ("a: *x\n", f":1:4: a: nothing finished above is marked &x; {STAR}"),
        ("? [1]\n: 3\n", ":1:3: a key is a list or a mapping; write a word as the key"),
        ("a: &x b\n*x : 3\n", ":2:1: a key is written as an alias; write the key out"),
        ("a: b: c\n", f":1:5: {COLON}"),
        ("a: \x07\n", ":1:4: there is a control character (U+0007); delete it"),
        (b"\xff\xfea\x00", ": the file is in UTF-16; save it as UTF-8"),
        ("a: b".encode("utf-32"), ": the file is in UTF-32; save it as UTF-8"),
        ("\ufeffa: b".encode("utf-32-be"), ": the file is in UTF-32; save it as UTF-8"),
        (
            "t:\n  a: " + "1/" * 300,
            ":2:6: t.a: 600 characters stand here in one piece; keep within 500",
        ),
        (
            "? " + "k" * 501 + "\n: 1\n",
            ":1:3: 501 characters stand here in one piece; keep within 500",
        ),
        (b"a: 1\nb: \xe9\n", ":2:4: byte 0xe9 is not UTF-8; save the file as UTF-8"),
        (b"\x7fELF\x00\x01\xff", ": this is no text file; name a YAML file"),
        (b"a" * 1_000_001, ": the file is too large for a part; keep it within 1000 kB"),
    ],
)
def test_what_is_refused_says_where_and_why(content, message):
    assert refusal(content) == f"HC-101.yaml{message}"


@pytest.mark.parametrize(
    ("content", "hint"),
    [
        ("a: 'x\n", "a quotation mark or a bracket is opened and never closed"),
        ("a: [1, 2\n", "a bracket is opened and never closed, or a comma is missing"),
        ("a: 1\nb\nc: 2\n", "a key needs a colon and a space behind it, as in `width: 12 mm`"),
        ('a: "3/8" in\n', "write nothing behind a closing quotation mark"),
        ("a: @x\n", "put text that begins with a sign such as @ or ` in quotes"),
        ('a: "\\q"\n', "write a backslash twice, or use single quotes"),
    ],
)
def test_a_slip_in_the_writing_gets_a_hint(content, hint):
    said = refusal(content)
    assert "this is not YAML: " in said and said.endswith(hint)


def test_several_things_wrong_are_said_at_once():
    said = refusal("a: 1\na: .inf\nb: !x y\n").splitlines()
    assert [line.split(": ")[0] for line in said] == [
        f"HC-101.yaml:{n}" for n in ("2:1", "2:4", "3:4")
    ]


def test_a_byte_order_mark_is_no_part_of_the_first_key():
    assert parse_document(b"\xef\xbb\xbfa: 1\n", "f").data == {"a": 1}


def laughs():
    names = "abcdefghijklmnopqrstuvwxyz"
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{n}: &{n} [{', '.join(9 * ['*' + names[i]])}]" for i, n in enumerate(names[1:])]
    return "\n".join(lines)


@pytest.mark.parametrize(
    "content",
    [laughs(), "[" * 900_000, "{a: " * 200_000, "- " * 400_000, "a: &x 1\n" * 100_000, "!" * 900_000,
     "\n".join(f"k{i}: 1" for i in range(90_000)), '"' + "\\x41" * 200_000, "? " * 400_000,
     "a: " + "9" * 900_000, "a: 1." + "9" * 900_000, "a: 1" + "/1" * 400_000],
    ids=["laughs", "brackets", "braces", "dashes", "anchors", "tags", "keys", "escapes", "queries",
         "digits", "decimals", "fractions"],
)  # fmt: skip
def test_no_file_costs_more_than_a_moment(content):
    # Processor time: what else the machine does is not the reader's cost.
    begin = time.process_time()
    with contextlib.suppress(InputError):
        parse_document(content.encode(), "f")
    assert time.process_time() - begin < 1.0


def test_aliases_count_as_often_as_they_are_used():
    assert "there are more than 20000 values" in refusal(laughs())
    most = "a: &a [" + ", ".join(["1"] * 100) + "]\nb: [" + ", ".join(["*a"] * 100) + "]\n"
    assert len(parsed(most).data["b"]) == 100


@pytest.mark.skipif(not hasattr(yaml, "CSafeLoader"), reason="only one parser is installed")
@pytest.mark.parametrize(
    "text", [SAMPLE, "a: [1, 'x', {b: ~}]\n", "a: |\n  two\n  lines\nb: >-\n  x\n"]
)
def test_both_parsers_agree(text, monkeypatch):
    quick = parsed(text)
    monkeypatch.setattr(document, "_LOADER", yaml.SafeLoader)
    assert parsed(text) == quick


@given(st.binary(max_size=200))
def test_random_bytes_are_read_or_refused(content):
    try:
        parse_document(content, "f")
    except InputError as error:
        assert error.problems and str(error)


@settings(max_examples=100)
@given(st.text(st.sampled_from("ab:-?[]{}&*!|>'\"%@`#, \n\t0.1/~\\<="), max_size=60))
def test_random_yaml_is_read_or_refused(text):
    try:
        parse_document(text.encode(), "f")
    except InputError as error:
        assert all(p.wrong and p.right for p in error.problems)


LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Co", "Cn"))
scalars = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**9), 10**9), st.text(LETTERS, max_size=8)
)
trees = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(LETTERS, max_size=5), inner)
    ),
)


@given(st.dictionaries(st.text(LETTERS, min_size=1, max_size=5), trees, min_size=1), st.booleans())
def test_data_comes_back_as_it_was_dumped(data, flow):
    class Quoting(yaml.SafeDumper):
        ignore_aliases = staticmethod(lambda data: True)

    # Text is quoted, so that it is text under any schema.
    Quoting.add_representer(
        str, lambda d, s: d.represent_scalar("tag:yaml.org,2002:str", s, style='"')
    )
    text = yaml.dump(data, Dumper=Quoting, default_flow_style=flow, allow_unicode=False)
    assert parsed(text).data == data


names = st.from_regex(r"[a-z_][a-z_0-9]{0,8}", fullmatch=True)


@given(names, st.lists(names | st.integers(0, 99), max_size=5))
def test_paths_print_and_read_back(first, rest):
    path = (first, *rest)
    assert steps_of(dotted(path)) == path


def test_files_that_cannot_be_read(tmp_path):
    (tmp_path / "HC-101.yaml").write_text("a: 1\n")
    for path, wrong in [
        (tmp_path, f"{tmp_path}: this is a folder; name one YAML file"),
        (tmp_path / "HC-110.yaml",
         f"{tmp_path}/HC-110.yaml: there is no such file; nearest is {tmp_path}/HC-101.yaml"),
        (tmp_path / "none" / "x",
         f"{tmp_path}/none/x: there is no such file; name an existing YAML file"),
    ]:  # fmt: skip
        with pytest.raises(InputError) as caught:
            read_document(path)
        assert str(caught.value) == wrong
    with pytest.raises(InputError, match="it cannot be read"):
        read_document("a\0b")
    assert read_document(tmp_path / "HC-101.yaml").data == {"a": 1}


@pytest.mark.parametrize("sign", ["\\0", "\\x1b[31m", "\\a"])
def test_a_control_character_written_as_an_escape_is_refused_at_its_place(sign):
    """It went into titles, and from there raw into the terminal."""
    with pytest.raises(InputError) as found:
        parse_document(f'name: HC-100\ntitle: "Seat {sign} clevis"\n'.encode(), "part.yaml")
    (problem,) = found.value.problems
    assert (problem.line, problem.field, problem.code) == (2, "title", "not_text")
    assert str(found.value).isprintable()


def test_a_hundred_different_problems_are_told_in_forty_lines():
    problems = [
        Problem("code", "part.yaml", i, 1, f"loads[{i}]", "", f"wrong {i}", f"right {i}")
        for i in range(1, 101)
    ]
    said = str(InputError(problems)).splitlines()
    assert len(said) == 41 and said[-1].startswith("at least 60 more problems")
