"""`oneoff list`: the families and their dimensions."""

from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.reading import family_of
from parts.cli.saying import write


@app.command("list")
def list_families(
    family: Annotated[str, typer.Argument(help="Show only this family.", metavar="[FAMILY]")] = "",
    modes: Annotated[
        bool,
        typer.Option("--modes", help="Show what can fail of its example, and what answers it."),
    ] = False,
    json: Json = False,
) -> None:
    """List the families and their dimensions."""
    from parts.report.catalogue import catalogue, catalogue_json, modes_json, modes_text

    if modes and family.casefold() in ("", "build"):
        raise typer.BadParameter("`--modes` is of one family: `oneoff list FAMILY --modes`")
    if modes:
        write((modes_json if json else modes_text)(family_of(family)))
        return
    if family.casefold() == "build":
        from parts.report.build_catalogue import build_catalogue

        write(build_catalogue())
        return
    chosen = {family: family_of(family)} if family else None
    write(catalogue_json(chosen) if json else catalogue(chosen))
