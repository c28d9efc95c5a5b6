"""`oneoff lookup`: what the tables say."""

from typing import Annotated

import typer

from parts.cli import straight
from parts.cli.app import Json, app


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
    raise typer.Exit(straight.look_up(designation or [], json=json))
