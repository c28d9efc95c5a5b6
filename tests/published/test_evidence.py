"""The page of evidence is what the rows work out, README says what it weighs, and a wrong answer is caught."""

import csv
import re

import convergence
import evidence
import pytest

AGAIN = "run python tests/published/evidence.py"


def page():
    return evidence.EVIDENCE.read_text(encoding="utf-8")


def test_the_page_holds_every_row_as_it_is_worked_now():
    assert evidence.HEAD in page() and evidence.weight_section() in page(), AGAIN
    assert evidence.rows_section(evidence.METHODS) in page(), AGAIN
    assert evidence.gaps_section() in page(), AGAIN
    assert evidence.COUNTED.read_text(encoding="utf-8") == evidence.counted(), AGAIN


@pytest.mark.slow
@pytest.mark.parametrize("title", [evidence.ELEMENTS, evidence.BESIDE])
def test_the_page_holds_what_the_elements_give_now(title):
    """Meshers differ in the last digits: a thousandth is allowed."""
    text = page().partition(f"## {title}\n")[2].partition("\n## ")[0]
    shown = [line for line in text.splitlines() if line.startswith("| refine")]
    rows = [one for one in evidence.collected() if one.section == title]
    assert len(shown) == len(rows), AGAIN
    for line, one in zip(shown, rows, strict=True):
        cells, now = line.strip("| ").split(" | "), evidence.cells(one)
        assert (*cells[:5], cells[7]) == (*now[:5], now[7]), AGAIN
        assert float(cells[5]) == pytest.approx(one.ours, rel=1e-3), AGAIN


@pytest.mark.slow
def test_the_page_holds_how_the_error_falls_now():
    text = page().partition(convergence.HEAD)[2].partition("\n## ")[0]
    shown = [
        line.strip("| ").split(" | ") for line in text.splitlines() if re.search(r"\| \d+ \|", line)
    ]
    found = [(study, level) for study in convergence.STUDIES for level in convergence.levels(study)]
    assert len(shown) == len(found), AGAIN
    for cells, (study, level) in zip(shown, found, strict=True):
        assert cells[0] == f"{study.name}, {study.what}" and cells[1] == study.source, AGAIN
        assert int(cells[3]) == pytest.approx(level.unknowns, rel=0.1), AGAIN
        assert float(cells[4]) == pytest.approx(level.found, rel=0.02), AGAIN


def test_readme_says_what_the_evidence_weighs():
    text = evidence.README.read_text(encoding="utf-8")
    assert evidence.BEGIN in text and evidence.readme(text) == text, AGAIN


def test_fewer_than_half_of_the_answers_are_from_memory():
    kinds = [one.kind for one in evidence.collected() if one.section == evidence.METHODS]
    assert kinds.count(evidence.FROM_MEMORY) < len(kinds) / 2
    assert set(kinds) <= set(evidence.KINDS)


UNNAMED = re.compile(
    r"published (chart|table|size)|maker's table|as published|open (chart|table) of|size tables|size chart"
)


def test_data_files_name_who_prints_their_values():
    """A source names its go-between, or says from memory, after a semicolon or of a part that it names."""
    for path in sorted((evidence.ROOT / "parts").rglob("*.csv")):
        lines = [
            line
            for line in path.read_text(encoding="utf-8").splitlines()
            if not line.startswith("#")
        ]
        for one in csv.DictReader(lines):
            source = one.get("source") or ""
            assert not UNNAMED.search(source), f"{path.name}: {source}"
            assert not source.endswith((", from memory", "(from memory)")), f"{path.name}: {source}"


def test_no_two_rows_are_one():
    names = [(one.source, one.example, one.method) for one in evidence.collected()]
    assert len(names) == len(set(names))


def test_a_wrong_answer_is_caught():
    wrong = evidence.row("a test of the test", "pinned.pin.section_area", "79.0 mm^2", D=10.0)
    with pytest.raises(AssertionError, match=r"printed 79\.0 mm\^2, ours 78\.5398"):
        wrong.check()
    evidence.row("a test of the test", "pinned.pin.section_area", "78.5 mm^2", D=10.0).check()


def test_a_text_with_a_unit_is_a_number_and_other_texts_are_not():
    assert evidence.quantity("2 in") == pytest.approx(50.8)
    assert evidence.quantity("machined or cold-drawn") == "machined or cold-drawn"
    assert evidence.quantity("-1.5e3 kip*in") == pytest.approx(-1.5e3 * 112984.829)
