"""`oneoff new`: a file to start from."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import app
from parts.cli.reading import family_of, of_file
from parts.cli.saying import write


@app.command()
def new(
    family: Annotated[
        str, typer.Argument(help="Family of the new part, or `build`.", metavar="FAMILY")
    ],
    kind: Annotated[
        str,
        typer.Argument(
            help="Of a build: `plain links`, `torsion bar`, `sidecar`, `car corner` or `brackets`.",
            metavar="[KIND]",
        ),
    ] = "",
    file: Annotated[
        Path | None, typer.Option("--out", help="File to write; standard output where left out.")
    ] = None,
    chosen: Annotated[
        list[str] | None,
        typer.Option(
            "--with",
            metavar="OPTION=VALUE",
            help="An option or value to start with, as in `shank=spigot` or "
            "`throat.rod_end=5/16-24 male`; may be repeated.",
        ),
    ] = None,
    name: Annotated[
        str, typer.Option("--name", help="Part number; the folder's next where left out.")
    ] = "",
) -> None:
    """Write a commented YAML file that makes a valid part at once."""
    from parts.inputs.problems import InputError
    from parts.making.writing import write_whole
    from parts.report.starter import next_number, starter

    if family.casefold() == "build":
        from parts.report.build_starter import STARTERS, build_starter

        known = list(STARTERS)
        if kind and kind not in known:
            raise typer.BadParameter(f"no build is called so; they are {', '.join(known)}.")
        text = build_starter(kind or known[0])
    else:
        family = f"{family} {kind}".strip()  # two words of a name, without quotes
        own = file.stem if file is not None else family.casefold().replace(" ", "-")
        text = starter(
            family_of(family),
            chosen or (),
            name or next_number(Path() if file is None else file.parent) or own,
        )
    if file is None:
        write(text)
        return
    if file.exists():
        raise InputError(
            [of_file(file, "exists", "it exists already", "name another file, or remove this one")]
        )
    write_whole(file, text.encode())
