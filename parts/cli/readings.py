"""`oneoff readings`: hardpoints from what was read off the mock-up."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write, write_line
from parts.cli.telling import OK, SHORT


@app.command()
def readings(
    file: Annotated[Path, typer.Argument(help="YAML file of the readings.", metavar="FILE")],
    json: Json = False,
    picture: Annotated[
        Path | None, typer.Option("--picture", help="SVG file to draw points and readings to.")
    ] = None,
) -> None:
    """Adjust readings of tape, caliper, height gauge, plumb line and level to hardpoints.

    Exit status 1 where readings contradict each other, or a point has no place or two.
    """
    from parts.inputs.document import content_of
    from parts.making.writing import write_all
    from parts.report.survey import survey_json, survey_svg, survey_text
    from parts.vehicle.survey.survey import survey_of

    survey = survey_of(content_of(file), str(file))
    write(survey_json(survey).decode() if json else survey_text(survey))
    if picture:
        for one in write_all(picture.parent, {picture.name: survey_svg(survey)}):
            if not json:
                write_line(str(one))
    raise typer.Exit(OK if survey.sound else SHORT)
