"""`oneoff open`: a page on this machine where a part is changed with the hand."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Out, app
from parts.cli.saying import write_now


@app.command("open")
def open_(
    file: Annotated[
        Path,
        typer.Argument(help="YAML file of a part, or a folder of such files.", metavar="[FILE]"),
    ] = Path(),
    out: Out = Path("outputs"),
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port of the page; any free one for 0.")
    ] = 0,
) -> None:
    """Change parts with the hand in a page on this machine, and see at once whether they hold; Ctrl-C ends it.

    A folder shows its parts, and the families that a new one is begun from.
    """
    from contextlib import suppress
    from threading import Event

    from parts.core import kernel
    from parts.editing.serving import serving
    from parts.editing.shelf import Shelf
    from parts.inputs.document import read_document
    from parts.inputs.reading import is_build, wanted_as

    kernel.needed()
    if not file.is_dir():
        document = read_document(file)  # refused here, where it is asked for
        if not is_build(document):
            wanted_as(document, "part")
        file = file.resolve()
    folder, first = (file, "") if file.is_dir() else (file.parent, file.name)
    with (
        suppress(KeyboardInterrupt),
        Shelf(folder, out, first) as shelf,
        serving(shelf, port) as served,
    ):
        write_now(f"open {served.address} in a browser; it lets in once; Ctrl-C ends it")
        Event().wait()
