"""Markup from Python: nothing that a user typed is ever markup."""

import base64
import hashlib
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pages import read

import parts
from parts.report.page.html import Html, joined, script, source_hash, table, tag


@given(
    st.text(st.characters(exclude_categories=("Cs", "Cc"))),
    st.text(st.characters(exclude_categories=("Cs", "Cc"))),
)
def test_text_and_attributes_come_back_as_they_were(inner, title):
    """Read back by the standard library's own HTML parser."""
    (found,) = read(tag("p", inner, title=title).encode()).all("p")
    assert (found.text, found.attributes["title"]) == (inner, title)


def test_markup_built_here_stays_and_nothing_is_left_out_by_chance():
    assert tag("p", tag("b", "<"), None, 0, False) == "<p><b>&lt;</b>0</p>"
    assert tag("img", alt="", data_x=1, hidden=True, src=None) == '<img alt="" data-x="1" hidden>'
    assert joined([Html("<hr>"), "a&b"]) == "<hr>a&amp;b"


def test_a_script_that_would_end_itself_is_refused():
    with pytest.raises(ValueError, match="would end it"):
        script("script", "x = '</script>'")


def test_the_hash_is_that_of_the_policy():
    """CSP Level 3, section 2.3.1: base64 of the digest, in quotes with its algorithm."""
    digest = base64.b64encode(hashlib.sha256(b"let a;").digest()).decode()
    assert source_hash("let a;") == f"'sha256-{digest}'"


def test_a_table_names_itself_its_columns_and_its_rows():
    found = read(table("Masses", ["part", "kg"], [["<a>", 1]], numbers=(1,)).encode())
    assert found.all("caption")[0].text == "Masses"
    assert [h.attributes["scope"] for h in found.all("th")] == ["col", "col", "row"]
    assert found.rows() == [["part", "kg"], ["<a>", "1"]]


def test_nothing_on_a_page_moves_by_itself():
    """Whoever asks for reduced motion asks for what every page is: it moves where a hand moves it."""
    sources = [
        one for kind in ("js", "css") for one in Path(parts.__file__).parent.rglob(f"*.{kind}")
    ]
    moving = re.compile(
        r"transition|animat(?!ionFrame)|@keyframes|smooth|setInterval|autoplay", re.I
    )
    assert len(sources) > 20
    assert [one.name for one in sources if moving.search(one.read_text())] == []
