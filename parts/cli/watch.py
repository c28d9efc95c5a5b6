"""`oneoff watch`: a page that follows the file."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Out, app
from parts.cli.saying import write_now


@app.command()
def watch(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    out: Out = Path("outputs"),
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port of the page; any free one for 0.")
    ] = 0,
) -> None:
    """Make a part again at each save, and show it in a page that follows; Ctrl-C ends it."""
    from contextlib import suppress

    from parts.cli.watching import watch as follow
    from parts.core import kernel

    kernel.needed()
    with suppress(KeyboardInterrupt):
        follow(file, out, port, write_now)
