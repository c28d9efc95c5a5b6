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
