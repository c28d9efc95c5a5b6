"""The page of a survey: where its points are and how sure that is, drawn with their ellipses, and what to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.report.page.document import document
from parts.report.page.html import data_uri, table, tag
from parts.report.survey import advice, point_rows, reading_rows, survey_svg, verdict

if TYPE_CHECKING:
    from parts.vehicle.survey.survey import Survey


def readings_page(survey: Survey) -> bytes:
    """The page, alone in its file."""
    name = survey.file.survey
    picture = data_uri("image/svg+xml", survey_svg(survey))
    body = tag(
        "main",
        tag("h1", f"{name}: readings"),
        *[tag("p", line) for line in verdict(survey)],
        tag("figure", tag("img", src=picture, alt="points with their ellipses, from above and from the left"),
            class_="plot"),
        *[tag("p", line) for line in advice(survey)],
        table("Points, mm", ["point", "x", "y", "z", "known to (95 %), worst along"],
              [list(row) for row in point_rows(survey.adjustment)], numbers=(1, 2, 3)),
        table("Readings", ["reading", "line", "read", "adjusted", "off", "of its error", "checked"],
              [list(row) for row in reading_rows(survey)], numbers=(1, 2, 3, 4, 5, 6)),
    )  # fmt: skip
    return document(f"{name}: readings", body)
