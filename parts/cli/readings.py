"""`oneoff readings`: hardpoints from what was read off the mock-up."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write, write_named
from parts.cli.telling import OK, SHORT


@app.command()
def readings(
    file: Annotated[
        Path,
        typer.Argument(
            help="YAML file of the readings; or a STEP, DXF or SVG whose round holes are to be listed.",
            metavar="FILE",
        ),
    ],
    json: Json = False,
    scale: Annotated[
        str, typer.Option("--scale", help="How long a unit of a DXF or SVG is, as in `0.0847 mm`.")
    ] = "",
    page: Annotated[
        Path | None, typer.Option("--page", help="HTML file to write points and readings to.")
    ] = None,
    picture: Annotated[
        Path | None, typer.Option("--picture", help="SVG file to draw points and readings to.")
    ] = None,
) -> None:
    """Adjust readings of tape, caliper, height gauge, plumb line and level to hardpoints.

    Exit status 1 where readings contradict each other, or a point has no place or two.
    """
    from parts.vehicle.survey.holes import READ

    if file.suffix.casefold() in READ:
        write(_holes(file, scale, json))
        return
    from parts.inputs.document import content_of
    from parts.report.survey import survey_json, survey_svg, survey_text
    from parts.vehicle.survey.survey import survey_of

    survey = survey_of(content_of(file), str(file))
    write(survey_json(survey).decode() if json else survey_text(survey))
    from parts.report.page.readings import readings_page

    if picture:
        write_named(picture, ".svg", survey_svg(survey), quiet=json)
    if page:
        write_named(page, ".html", readings_page(survey), quiet=json)
    raise typer.Exit(OK if survey.sound else SHORT)


def _holes(file: Path, scale: str, json: bool) -> str:
    from parts.inputs.problems import InputError, Problem
    from parts.inputs.units import LENGTH, Units, read_number
    from parts.report.survey import holes_json, holes_text
    from parts.vehicle.survey.holes import holes_of

    try:
        unit = float(read_number(scale, LENGTH, Units())) if scale else None
    except ValueError as error:
        raise InputError([Problem("bad_value", str(file), 0, 0, "scale", scale, str(error),
                                  "write a length, as in `0.0847 mm`")]) from None  # fmt: skip
    found = holes_of(file, unit)
    return holes_json(file.name, found).decode() if json else holes_text(file.name, found)
