"""`oneoff size`: the smallest standard size that holds."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write
from parts.cli.telling import OK, SHORT


@app.command()
def size(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    free: Annotated[
        list[str],
        typer.Option(
            "--free",
            metavar="DIMENSION",
            help="Dimension or option to size, as in `plate.thickness` or `pin.bolt`, by its "
            "standard sizes; or with what to try, as in `ears.width=20 mm, 22 mm`.",
        ),
    ],
    factor: Annotated[
        float | None,
        typer.Option(
            min=1.0,
            max=20.0,
            help="Least factor on yield and on ultimate strength; the file's own where left out.",
        ),
    ] = None,
    check: Annotated[
        str,
        typer.Option(
            "--check", help="Beginning of a check's name: show what each size leaves of it."
        ),
    ] = "",
    show: Annotated[
        int, typer.Option(min=1, max=20, help="How many sizes that hold are shown.")
    ] = 3,
    json: Json = False,
) -> None:
    """Find the smallest standard size that meets every rule and check."""
    from parts.core import kernel
    from parts.report.sized import sizing_json, sizing_text
    from parts.study.size import size_part

    kernel.needed()
    found = size_part(file, free, factor, show, check)
    write(sizing_json(found) if json else sizing_text(found))
    raise typer.Exit(OK if found.choices else SHORT)
