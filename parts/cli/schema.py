"""`oneoff schema`: the JSON Schema of each family."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import app
from parts.cli.reading import family_of
from parts.cli.saying import write, write_line


@app.command()
def schema(
    family: Annotated[
        str,
        typer.Argument(
            help="Print the schema of this family only; `build`, `readings` or `made` for those files.",
            metavar="[FAMILY]",
        ),
    ] = "",
    out: Annotated[
        Path | None, typer.Option("--out", help="Write one file a family into this folder.")
    ] = None,
) -> None:
    """Write the JSON Schema of each family's YAML, for editors."""
    from parts.making.writing import write_whole
    from parts.report.schemas import BESIDE, schema_bytes, schema_files

    beside = f"{family.casefold()}.schema.json"
    if beside in BESIDE:
        write(schema_files()[beside].decode())
        return
    if family:
        write(schema_bytes(family_of(family)).decode())
        return
    folder = out or Path("schemas")
    for name, content in schema_files().items():
        write_whole(folder / name, content)
        write_line(str(folder / name))
