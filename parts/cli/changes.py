"""`oneoff changes`: what moved."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, Out, app
from parts.cli.saying import complain, write
from parts.cli.telling import FAILED


@app.command()
def changes(
    file: Annotated[Path, typer.Argument(help="YAML file of the build.", metavar="FILE")],
    against: Annotated[
        str, typer.Option("--against", help="A revision of git; the last build where left out.")
    ] = "",
    out: Out = Path("outputs"),
    json: Json = False,
) -> None:
    """Show what moved in a build: dimensions, masses, factors, points, ride and loads, before and after."""
    from parts.core import kernel
    from parts.folders.changes import against_last, against_revision, changes_json
    from parts.folders.records import table
    from parts.making.model import MakeError
    from parts.vehicle.file.loading import build_of

    kernel.needed()
    build = build_of(file)
    try:
        found = against_revision(build, against) if against else against_last(build, out)
    except MakeError as error:
        complain(str(error))
        raise typer.Exit(FAILED) from None
    write(changes_json(found) if json else table(found))
