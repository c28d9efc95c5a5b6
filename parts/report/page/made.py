"""The pieces of a part that were made, on its page: their records, and what their sizes come to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.inputs.problems import InputError
from parts.report.as_made import fit_text, record_lines, size_rows, verdict
from parts.report.page.frame import listed
from parts.report.page.html import Html, joined, table, tag

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.inputs.document import Document

HEADS = ["dimension", "stated", "measured", "off", "allowed", ""]


def as_made_fold(part: Part, written: Document | None) -> tuple[str, Html | None]:
    """What the records beside a part's file say of its pieces: the line of the fold, and what it holds.

    Args:
        part: the part.
        written: its file; None for a part from Python.
    """
    from parts.study.made.record import records_of

    records = () if written is None else records_of(written.file, part)
    if written is None or not records:
        return "", None
    said, inner = [], []
    for one in records:
        from parts.study.made.as_made import as_made

        try:
            found = as_made(written.file, one)
        except InputError as error:
            said.append(f"the record {one.name} cannot be read")
            inner.append(tag("p", str(error)))
            continue
        said.append(verdict(found))
        assert found.record is not None
        for head, lines in record_lines(found.record, part):
            inner += [tag("h3", head.capitalize())] if head else []
            inner.append(listed(lines))
        inner.append(table("Sizes, mm", HEADS, [list(cells) for cells in size_rows(found)]))
        if found.fits:
            inner.append(listed([fit_text(fit) for fit in found.fits]))
    return "; ".join(said), joined(*inner)
