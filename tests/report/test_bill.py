"""The bill of bought-in parts: lines merged, quantities counted, cells that no spreadsheet runs."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.core.cautions import IN_SHORT
from parts.core.part import Bought
from parts.making.writing import FORMULA_SIGNS, harmless
from parts.report import bill

ROD_END = "rod end 3/8-24 male LH"
HEADING = b'"designation","quantity","fits","source"\n'


def rows(content: bytes) -> list[list[str]]:
    """All but the caution, which stands last."""
    *lines, caution = csv.reader(io.StringIO(content.decode(), newline=""))
    assert caution == [IN_SHORT, "", "", ""]
    return lines


def test_one_designation_is_one_line() -> None:
    lines = bill.merged(
        [
            Bought(ROD_END, 1, "end A", "table one"),
            Bought("6202", 2, "hub"),
            Bought(f" {ROD_END.upper()} ", 1, "end B", "table one"),
        ]
    )
    assert lines == (Bought(ROD_END, 2, "end A; end B", "table one"), Bought("6202", 2, "hub"))


def test_the_file_has_a_heading_and_reads_back() -> None:
    lines = [Bought('bush 12 x 15, "flanged"', 2, "ears, pressed in\nboth", "ISO 4379")]
    heading, row = rows(bill.csv_bytes(lines))
    assert heading == ["designation", "quantity", "fits", "source"]
    assert row == ['bush 12 x 15, "flanged"', "2", "ears, pressed in\nboth", "ISO 4379"]


def test_nothing_bought_leaves_the_heading() -> None:
    assert bill.csv_bytes([]).startswith(HEADING) and len(rows(bill.csv_bytes([]))) == 1


@pytest.mark.parametrize(
    "cell",
    [
        "=1+1",
        "+1",
        "-14",
        "@sum",
        "\tx",
        "\rx",
        '=HYPERLINK("x")',
        "  =1",
        "\n=1",
        "＝1",
        "=cmd|' /C x'!A0",
    ],
)
def test_no_cell_runs_as_a_formula(cell) -> None:
    """The signs are those of the usual advice on formulas in CSV files; common practice."""
    for place in ("designation", "fits", "source"):
        line = Bought(
            **{"designation": "a", "quantity": 1, "fits": "b", "source": "c", place: cell}
        )
        row = dict(zip(bill.COLUMNS, rows(bill.csv_bytes([line]))[1], strict=True))
        assert row[place] == f"'{cell}"


@pytest.mark.parametrize("mark", ["\r", "\n", ";", ",", '"', "\t"])
def test_no_cell_begins_within_another(mark) -> None:
    """A mark that ends a cell or a line for some spreadsheet stands within quotes, so the rest stays text."""
    content = bill.csv_bytes([Bought(f"a{mark}=1+1", 1, "b")])
    assert len(rows(content)) == 2
    assert content.decode().splitlines()[1].startswith('"a')
    assert rows(content)[1][0] == f"a{mark}=1+1"


@given(st.text(alphabet=st.characters(blacklist_categories=("Cs",)), max_size=20))
def test_any_cell_is_kept_and_harmless(text) -> None:
    """Whatever is typed comes back, with no more than an apostrophe before it."""
    shown = harmless(text)
    assert shown in (text, f"'{text}")
    assert not shown.lstrip(" ").startswith(FORMULA_SIGNS)


def test_the_same_in_gives_the_same_out() -> None:
    lines = [Bought("b", 1, "x"), Bought("a", 1, "y"), Bought("b", 1, "x")]
    said = HEADING + b'"b",2,"x",""\n"a",1,"y",""\n'
    assert bill.csv_bytes(bill.merged(lines)).startswith(said)


def test_make_writes_the_bill_beside_the_reports(tmp_path) -> None:
    from parts.families import families
    from parts.folders.part_files import make_part

    family = families()["clevis"]
    part = family.model_validate({**family.example, "outputs": ["report"]})
    made = make_part(part, tmp_path)
    assert {file.name for file in made.files} == {"report.json", "report.txt", "bought.csv"}
    written = (tmp_path / part.name / "bought.csv").read_bytes()
    assert written == bill.csv_bytes(bill.merged(part.bought()))
    assert sum(int(row[1]) for row in rows(written)[1:]) == sum(b.quantity for b in part.bought())
