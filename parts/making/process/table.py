"""The process sheets as a table for the readout: a row a place of a step, lengths in mm from the set-up's zero."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.inputs.units import MM_PER_INCH
from parts.making.bench.inspection import Item
from parts.making.process.step import SetUp
from parts.making.writing import harmless

COLUMNS = (
    "set-up", "machine", "step", "operation", "tool", "makes", "diameter_mm", "at", "x_mm", "y_mm", "z_from_mm",
    "z_to_mm", "to", "rpm", "feed_mm_min", "x_in", "y_in", "z_to_in", "no", "least_mm", "greatest_mm", "measured_mm",
    "note",
)  # fmt: skip


def process_csv(setups: Sequence[SetUp], rows: Sequence[Item]) -> bytes:
    """Lay the steps out as CSV, UTF-8; the inspection rows of a step stand on rows of their own below it."""
    target = io.StringIO()
    table = csv.writer(target, lineterminator="\n")
    table.writerow(COLUMNS)
    items = {row.number: row for row in rows}
    for k, setup in enumerate(setups, 1):
        for m, step in enumerate(setup.steps, 1):
            top, bottom = (float(np.round(setup.z(v), 4)) + 0.0 for v in (step.top, step.bottom))
            for spot in step.spots or (None,):
                at = (
                    ["", ""]
                    if spot is None
                    else [float(v) + 0.0 for v in np.round(setup.at(spot.place)[:2], 4)]
                )
                inch = ["", ""] if spot is None else [f"{v / MM_PER_INCH:.4f}" for v in at]  # type: ignore[operator]
                table.writerow([
                    k, setup.machine, m, step.kind, harmless(step.tool), harmless(step.makes),
                    f"{step.diameter:.3f}" if step.diameter else "", "" if spot is None else spot.label,
                    *(f"{v:.3f}" if v != "" else "" for v in at), f"{top:.3f}", f"{bottom:.3f}", step.to,
                    f"{step.rpm:.0f}" if step.rpm else "", f"{step.feed:.0f}" if step.feed else "", *inch,
                    f"{bottom / MM_PER_INCH:.4f}", "", "", "", "", harmless(step.note),
                ])  # fmt: skip
            for number in step.numbers:
                row = items.get(number)
                if row is not None:
                    limits = ["" if np.isnan(v) else f"{v:.3f}" for v in (row.low, row.high)]
                    table.writerow(
                        [
                            k,
                            setup.machine,
                            m,
                            "measure",
                            row.tool,
                            harmless(row.name),
                            *[""] * 12,
                            number,
                            *limits,
                            "",
                            "",
                        ]
                    )
    table.writerow([IN_SHORT])
    return target.getvalue().encode("utf-8")
