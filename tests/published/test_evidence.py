"""The table of evidence: every example works, names a marked method, and a wrong answer is caught."""

import evidence
import pytest


def test_every_row_names_a_method_and_agrees():
    rows = evidence.rows()
    assert len(rows) == len(evidence.EXAMPLES)
    for row in rows:
        assert hasattr(evidence.resolve(row.method), "formula"), row.method
        assert abs(row.difference) <= row.tolerance, row
        assert row.source and row.unit and row.why


def test_a_wrong_answer_is_caught(monkeypatch):
    monkeypatch.setattr(evidence, "EXAMPLES", {})

    @evidence.example(
        method="parts.strength.pin.double_shear",
        source="nowhere",
        published=1.0,
        unit="MPa",
        tolerance=0.01,
        why="a test of the test",
    )
    def wrong():
        return 1.02

    with pytest.raises(AssertionError, match=r"published 1 MPa, ours 1\.02 MPa"):
        wrong()


def test_the_table_in_the_repository_is_what_the_examples_give():
    """Finite elements may differ in the last digits between meshers: there, only the rows count."""
    text = evidence.EVIDENCE.read_text(encoding="utf-8")
    again = "run python tests/published/evidence.py"
    assert evidence.HEAD in text and evidence.strength_section() in text, again
    assert evidence.gaps_section() in text, again
    for one in evidence.EXAMPLES.values():
        example, source = (
            one.name.removeprefix("test_").replace("_", " "),
            one.source.replace("|", "\\|"),
        )
        assert f"| {example} | {source} |" in text, again
    table = [line for line in text.splitlines() if line.startswith("| ") and line.count(" | ") == 7]
    assert len(table) == len(evidence.EXAMPLES) + 2 * text.count("allowed, and why"), again


def test_a_method_without_an_example_is_named_as_such():
    missing = evidence.without_example()
    worked = {one.method for one in evidence.EXAMPLES.values()}
    for module, names in missing.items():
        for name in names:
            dotted = f"parts.strength.{module}.{name}"
            assert hasattr(evidence.resolve(dotted), "formula") and dotted not in worked
