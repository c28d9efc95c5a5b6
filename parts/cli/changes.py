"""`oneoff changes`: what moved."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, Out, app
from parts.cli.saying import complain, write, write_line
from parts.cli.telling import FAILED


@app.command()
def changes(
    file: Annotated[Path, typer.Argument(help="YAML file of a part or build.", metavar="FILE")],
    against: Annotated[
        str,
        typer.Option(
            "--against",
            help="A revision of git, or another file of a part; the last make where left out.",
        ),
    ] = "",
    out: Out = Path("outputs"),
    json: Json = False,
) -> None:
    """Show what moved in a part or build, before and after: dimensions, masses, factors, loads; of a build, points and
    ride too.

    Of a part, each check that changed; both outlines go into one picture beside its folder.
    """
    from parts.core import kernel
    from parts.inputs.document import read_document
    from parts.inputs.reading import is_build
    from parts.making.model import MakeError

    kernel.needed()
    show = _of_build if is_build(read_document(file)) else _of_part
    try:
        show(file, against, out, json)
    except MakeError as error:
        complain(str(error))
        raise typer.Exit(FAILED) from None


def _of_build(file: Path, against: str, out: Path, json: bool) -> None:
    from parts.folders.changes import against_last, against_revision, changes_json
    from parts.folders.records import table
    from parts.vehicle.file.loading import build_of

    build = build_of(file)
    found = against_revision(build, against) if against else against_last(build, out)
    write(changes_json(found) if json else table(found))


def _of_part(file: Path, against: str, out: Path, json: bool) -> None:
    from parts.folders.part_changes import part_changes
    from parts.folders.records import table
    from parts.making.writing import write_whole

    found = part_changes(file, against, out)
    write(found.json() if json else table(found.changes))
    if found.changes:
        picture = out / f"{found.name}-changes.svg"
        write_whole(picture, found.picture)
        if not json:
            write_line(str(picture))
