"""`oneoff as-made`: a part checked with the sizes that were measured on it."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import app
from parts.cli.saying import write, write_line
from parts.cli.telling import OK, SHORT


@app.command("as-made")
def as_made(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    sizes: Annotated[
        Path | None,
        typer.Argument(
            help="CSV file with columns dimension, measured, within; or a filled inspection sheet.",
            metavar="SIZES",
        ),
    ] = None,
    blank: Annotated[
        Path | None, typer.Option("--blank", help="Write a CSV to be filled in, and stop.")
    ] = None,
) -> None:
    """Check a part as it was made: measured sizes in place of stated ones, what got worse first.

    Exit status 1 where it then breaks a rule or falls short.
    """
    from parts.making.writing import write_all
    from parts.report.as_made import as_made_text
    from parts.study.as_made import as_made as checked
    from parts.study.as_made import blank_csv

    if blank is not None:
        for one in write_all(blank.parent, {blank.name: blank_csv(file)}):
            write_line(str(one))
        return
    if sizes is None:
        raise typer.BadParameter("name the CSV of what was measured, or --blank for one to fill in")
    found = checked(file, sizes)
    write(as_made_text(found))
    raise typer.Exit(OK if found.ok else SHORT)
