"""`oneoff open`: a page on this machine where a part is changed with the hand."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Out, app
from parts.cli.saying import write_now


@app.command("open")
def open_(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    out: Out = Path("outputs"),
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port of the page; any free one for 0.")
    ] = 0,
) -> None:
    """Change a part with the hand in a page on this machine, and see at once whether it holds; Ctrl-C ends it."""
    from threading import Event

    from parts.core import kernel
    from parts.hand.serving import serving
    from parts.hand.work import opened

    kernel.needed()
    with opened(file, out.resolve()) as work, serving(work, port) as served:
        write_now(f"open {served.address} in a browser; it lets in once; Ctrl-C ends it")
        try:
            Event().wait()
        except KeyboardInterrupt:
            return
