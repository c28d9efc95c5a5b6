"""`oneoff check`: the checks alone, nothing built or written."""

import typer

from parts.cli import straight
from parts.cli.app import All, Files, Json, app


@app.command()
def check(files: Files, every: All = False, json: Json = False) -> None:
    """Check parts from their dimensions alone; nothing is built or written.

    Says the verdict and the checks that leave least of each part.
    """
    raise typer.Exit(straight.check(files, every=every, json=json))
