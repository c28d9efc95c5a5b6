"""`oneoff lookup`: what the tables say."""

from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import complain, write
from parts.cli.telling import WRONG_INPUT


@app.command()
def lookup(
    designation: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[KIND] DESIGNATION...",
            help="What to look up, as in `thread 3/8-24 UNF LH` or `6202`; nothing lists the kinds.",
        ),
    ] = None,
    json: Json = False,
) -> None:
    """Look up a standard part, thread, fit, drill, stock size or material."""
    from parts.report.lookup import as_json, as_text, kinds_json, kinds_text, look_up
    from parts.standards.designation import UnknownDesignation

    if not designation:
        write(kinds_json() if json else kinds_text())
        return
    try:
        answer = look_up(designation)
    except UnknownDesignation as unknown:
        complain(str(unknown))
        raise typer.Exit(WRONG_INPUT) from None
    write(as_json(answer) if json else as_text(answer))
