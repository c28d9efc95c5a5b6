"""`oneoff list`: the families and their dimensions."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.reading import family_of
from parts.cli.saying import write


@app.command("list")
def list_families(
    words: Annotated[
        list[str] | None, typer.Argument(help="Show only this family.", metavar="[FAMILY]")
    ] = None,
    modes: Annotated[
        bool,
        typer.Option("--modes", help="Show what can fail of its example, and what answers it."),
    ] = False,
    picture: Annotated[
        Path | None,
        typer.Option(
            "--picture",
            metavar="FILE",
            help="Write an SVG of its example with the names of its dimensions where a drawing has their values.",
        ),
    ] = None,
    json: Json = False,
) -> None:
    """List the families and their dimensions."""
    from parts.report.catalogue import catalogue, catalogue_json, modes_json, modes_text

    family = " ".join(words or ())
    if picture is not None:
        _picture(family, picture)
        return
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


def _picture(family: str, file: Path) -> None:
    """Draw the key to the dimensions of a family's example."""
    if not family or family.casefold() == "build":
        raise typer.BadParameter(
            "`--picture` is of one family: `oneoff list FAMILY --picture FILE`"
        )
    if file.suffix != ".svg":
        raise typer.BadParameter("the picture is an SVG: name it FILE.svg")
    from parts.core import kernel
    from parts.making.bench.key import key
    from parts.making.writing import write_whole

    kernel.needed()
    chosen = family_of(family)
    found = key(chosen.model_validate(dict(chosen.example)))
    write_whole(file, found.svg)
    below = f", {len(found.below)} of them below it for want of room" if found.below else ""
    write(f"{file}: {len(found.fields + found.below)} dimensions of {family}{below}\n")
