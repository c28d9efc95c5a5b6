"""The manual: nothing that the code knows is missing, nothing is fetched, every link leads somewhere."""

import inspect
import re
from html import unescape

import pytest
from pages import read, runs_only_what_it_states

from parts.cli.commands import app  # noqa: F401  (the commands register themselves)
from parts.cli.manual import commands
from parts.core.ways import ways
from parts.families import families
from parts.inputs.reading import FORM_NAMES
from parts.report.build_catalogue import build_keys
from parts.report.build_starter import STARTERS
from parts.report.catalogue import dimensions
from parts.report.lookup import KINDS
from parts.report.manual.families import examples_of, file_of, options_of
from parts.report.manual.methods import evidence, methods
from parts.report.manual.pages import manual
from parts.report.starter import options
from parts.vehicle.file import forms

KEY = b'<?xml version="1.0"?>\n<svg viewBox="0 0 9 9"><title>a key</title><text>ears.depth</text></svg>\n'
POINTS = (
    b'<?xml version="1.0"?>\n<svg viewBox="0 0 9 9"><title>points</title><text>head</text></svg>\n'
)


@pytest.fixture(scope="module")
def pages():
    return dict(manual(tuple(commands()), lambda _: KEY, lambda _: POINTS))


def text(content):
    return unescape(re.sub(r"<wbr>|<[^>]+>", "", content.decode().partition("</style>")[2]))


@pytest.mark.parametrize("name", sorted(families()))
def test_every_field_and_load_point_of_every_family_is_there(pages, name):
    family, said = families()[name], text(pages[file_of(name)])
    missing = [path for path, *_ in dimensions(family) if path not in said]
    assert missing == [] and family.axes in said and "its axes, and where loads may act" in said
    assert all(point in said for point in family.load_points)


@pytest.mark.parametrize("name", sorted(families()))
def test_every_option_has_a_key(pages, name):
    """An option stands in some example; two that stand in groups of one name are drawn once."""
    page = read(pages[file_of(name)])
    keys = [svg for svg in page.all("svg") if svg.attributes.get("class") == "key"]
    every = examples_of(families()[name])
    assert len(keys) == len(every) >= len(families()[name].examples)
    drawn = " ".join(f".{one} " for part, _ in every for one in options_of(part))
    for option in options(families()[name]):
        path, _, word = option.partition("=")
        assert f".{path.split('.')[-1]}={word} " in drawn, option


def test_every_form_and_key_of_a_build_is_there(pages):
    said = text(pages["build.html"])
    assert [path for path, _ in build_keys() if path not in said] == []
    forms_said = re.findall(r"\{(\w+):", inspect.getdoc(forms))
    assert {*FORM_NAMES} == set(forms_said)
    assert all(f"{{{one}:" in said for one in forms_said)
    assert all(kind in said for kind in STARTERS)


def test_every_method_is_there_with_formula_source_and_evidence(pages):
    said, found = text(pages["methods.html"]), dict(methods())
    assert len(found) > 300
    for name, function in found.items():
        assert name.rpartition(".")[2] in said
        assert function.formula in said and function.source in said
    assert set(evidence()) <= set(found)


def test_every_way_look_up_rule_and_command_is_there(pages):
    said = text(pages["ways.html"])
    assert all(one.what in said and one.name in said for one in ways())
    said = text(pages["look-ups.html"])
    assert all(f"oneoff lookup {kind.name} {kind.example}" in said for kind in KINDS)
    said = text(pages["messages.html"])
    for family in families().values():
        part = family.model_validate(dict(family.example))
        assert all(one.why in said and one.how in said for one in part.rules())
    said = text(pages["commands.html"])
    for one in commands():
        assert f"oneoff {one.name}" in said and one.does in said
        assert all(name in said and what in said for name, what in one.takes)


def test_every_link_leads_to_a_page_and_nothing_is_fetched(pages):
    for content in pages.values():
        page = read(content)
        runs_only_what_it_states(page)
        for one in page.all("a"):
            address = one.attributes["href"]
            assert address.startswith("#") or address in pages, address
        ids = [one.attributes["id"] for one in page.walk() if one.attributes.get("id")]
        assert len(ids) == len(set(ids))
    linked = {a.attributes["href"] for a in read(pages["index.html"]).all("a")}
    assert set(pages) - {"index.html"} <= linked


@pytest.mark.slow
def test_it_is_the_same_again(pages):
    assert dict(manual(tuple(commands()), lambda _: KEY, lambda _: POINTS)) == pages
