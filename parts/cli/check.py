"""`oneoff check`: the checks alone, nothing built or written."""

import typer

from parts.cli.app import All, Files, Json, app
from parts.cli.reading import read_with_builds
from parts.cli.telling import say_checked


@app.command()
def check(files: Files, every: All = False, json: Json = False) -> None:
    """Check parts from their dimensions alone; nothing is built or written.

    Says the verdict and the checks that leave least of each part.
    """
    import gc

    gc.disable()  # a check is over before a collection would pay
    read, builds = read_with_builds(files)
    status = say_checked(read, builds, json=json, every=every)
    gc.freeze()  # nor would one at the end, through all that was loaded, of a process that is over
    raise typer.Exit(status)
