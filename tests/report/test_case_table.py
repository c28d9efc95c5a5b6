"""The table of load cases times parts."""

from parts.core.check import check
from parts.report.case_table import EVERY, case_table_text, rows, uses


def one(case, demand, capacity=100.0, required=2.0):
    return check(
        "bolt", "shear", load_case=case, demand=demand, capacity=capacity, unit="N", required=required
    )  # fmt: skip


def test_a_cell_is_the_largest_share_and_the_largest_of_a_part_has_a_star():
    # Required over factor: 2 * 20 / 100, 2 * 45 / 100; what is no number is the worst.
    found = {
        "A": uses([one("jump", 20.0), one("jump", 45.0), one("stop", 10.0), one("", 5.0)]),
        "B": uses([one("stop", float("nan")), one("jump", 1.0)]),
        "C": {},
    }
    assert found["A"] == {"jump": 0.9, "stop": 0.2, EVERY: 0.1}
    assert rows(found, ["A", "B"]) == [
        ("jump", ["90 %*", "2 %"]),
        ("stop", ["20 %", "none*"]),
        (EVERY, ["10 %", ""]),
    ]
    text = case_table_text(found)
    assert "90 %*" in text and " C" not in text and max(map(len, text.splitlines())) <= 100


def test_wide_builds_break_into_several_tables():
    found = {f"HC-{i}": {"jump": 0.5} for i in range(20)}
    assert case_table_text(found).count("jump") == 3
