"""`oneoff list`: the families and their dimensions."""

from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.reading import family_of
from parts.cli.saying import write


@app.command("list")
def list_families(
    family: Annotated[str, typer.Argument(help="Show only this family.", metavar="[FAMILY]")] = "",
    json: Json = False,
) -> None:
    """List the families and their dimensions."""
    from parts.report.catalogue import catalogue, catalogue_json

    chosen = {family: family_of(family)} if family else None
    write(catalogue_json(chosen) if json else catalogue(chosen))
