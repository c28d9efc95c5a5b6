"""`oneoff new`: a file to start from."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import app
from parts.cli.reading import family_of, of_file
from parts.cli.saying import write


@app.command()
def new(
    family: Annotated[str, typer.Argument(help="Family of the new part.", metavar="FAMILY")],
    file: Annotated[
        Path | None, typer.Option("--out", help="File to write; standard output where left out.")
    ] = None,
) -> None:
    """Write a commented YAML file that makes a valid part at once."""
    from parts.inputs.problems import InputError
    from parts.making.writing import write_whole
    from parts.report.starter import starter

    if family.casefold() == "build":
        from parts.report.build_catalogue import STARTER

        text = STARTER
    else:
        text = starter(family_of(family))
    if file is None:
        write(text)
        return
    if file.exists():
        raise InputError(
            [of_file(file, "exists", "it exists already", "name another file, or remove this one")]
        )
    write_whole(file, text.encode())
