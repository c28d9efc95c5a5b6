"""A part as it is met from Python: messages, help, and what a notebook shows."""

import pydoc

import pytest

import parts
from parts.core import notebook
from parts.families import families
from parts.inputs.problems import InputError


def clevis():
    return parts.Clevis(**{k: v for k, v in parts.Clevis.example.items() if k != "family"})


def test_what_is_wrong_is_told_as_of_a_file_without_a_link():
    with pytest.raises(InputError) as found:
        parts.Clevis(
            name="X", material="4130 normalized", ears={"width": "22 kg"}, shank={"type": "pod"}
        )
    said = str(found.value)
    assert "ears.width: `22 kg` is a mass, not a length; write a length" in said
    assert "shank.type: `pod` is no choice here; nearest is `pad`" in said
    assert "http" not in said and "pydantic" not in said


def test_a_broken_rule_is_told_so_too():
    with pytest.raises(InputError, match=r"parts\.Clevis: ears\.width: 558\.8 mm"):
        parts.Clevis(**{**clevis_data(), "ears": {**clevis_data()["ears"], "width": "22 in"}})


def clevis_data():
    return {k: v for k, v in parts.Clevis.example.items() if k != "family"}


def test_numbers_and_texts_with_units_are_the_same():
    data = clevis_data()
    typed = parts.Clevis(**{**data, "edge_break": 0.5, "clocking": 30})
    written = parts.Clevis(**{**data, "edge_break": "0.5 mm", "clocking": "30 deg"})
    assert (typed.edge_break, typed.clocking) == (written.edge_break, written.clocking)


@pytest.mark.parametrize("name", families())
def test_help_shows_every_field_with_unit_default_and_meaning(name):
    family = families()[name]
    told = pydoc.plain(pydoc.render_doc(family))
    signature = next(
        line for line in told.splitlines() if line.startswith(f" |  {family.__name__}(")
    )
    assert len(signature) < 400 and "Annotated" not in signature
    flat = " ".join(told.replace("|", " ").split())
    for path, field in family.model_fields.items():
        assert f"{path} (" in flat
        assert " ".join((field.description or "").split()) in flat


def test_angles_are_said_to_be_degrees():
    """A bare number of an angle is read in degrees."""
    assert "clocking (angle [deg]; 0 deg where left out)" in " ".join(parts.Clevis.__doc__.split())


def test_a_notebook_shows_picture_verdict_and_what_leaves_least(monkeypatch):
    monkeypatch.setattr(notebook, "picture_of", lambda part: b"drawn")
    part = clevis()
    page = part._repr_html_()
    assert "data:image/png;base64,ZHJhd24=" in page and "<b>holds</b>" in page
    checks = part.check().checks
    least = min(checks, key=lambda one: float(one.factor) / float(one.required))
    rows = page.split("<tr>")[2:]
    assert len(rows) == notebook.LEAST < len(checks) and least.name in rows[0]


def test_a_part_that_cannot_be_drawn_shows_its_checks_all_the_same(monkeypatch):
    def fails(part):
        raise RuntimeError("<no screen>")

    monkeypatch.setattr(notebook, "picture_of", fails)
    page = clevis()._repr_html_()
    assert "no picture: &lt;no screen&gt;" in page and "<table>" in page


CALLER = """
import parts

clevis = parts.Clevis(name="X", material="4130 normalized", clocking="30 deg", edge_break=0.5,
                      ears={"width": "22 mm", "depth": 20}, shank={"type": "pad"})
lever = parts.FootLever(name="L", material="7075-T6", hub={}, arm={}, toe={}, rod={})
deeper = clevis.changed({"ears.depth": "24 mm", "clocking": 30})
print(float(deeper.check().governing.factor), parts.load("x.yaml").name)
"""


@pytest.mark.slow
def test_a_type_checker_of_the_caller_takes_numbers_and_texts_with_units(tmp_path):
    api = pytest.importorskip("mypy.api")
    (tmp_path / "caller.py").write_text(CALLER)
    words = [
        "--strict",
        "--follow-imports=silent",
        "--cache-dir",
        str(tmp_path),
        "--config-file",
        "",
    ]
    said, _, status = api.run([*words, str(tmp_path / "caller.py")])
    assert status == 0, said
