"""`oneoff sweep`: tables of variants."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Out, app
from parts.cli.leaving import made_rows
from parts.cli.saying import write, write_line
from parts.cli.telling import OK, SHORT


@app.command()
def sweep(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    free: Annotated[
        list[str] | None,
        typer.Option(
            "--free",
            metavar="DIMENSION=VALUES",
            help="Values of a dimension, as in "
            "`ears.thickness=4 mm to 8 mm by 0.5 mm`; every combination is a row.",
        ),
    ] = None,
    table: Annotated[
        Path | None, typer.Option("--table", help="CSV file of rows, dimensions in its first line.")
    ] = None,
    out: Out = Path("outputs"),
    make_rows: Annotated[
        str,
        typer.Option("--make", metavar="ROWS", help="Rows to make: numbers, `lightest` or `edge`."),
    ] = "",
) -> None:
    """Check a table of variants; write them as CSV, and mass against factor as a plot."""
    from parts.making.writing import write_all
    from parts.report.sweepplot import sweep_svg
    from parts.report.swept import notes_text, swept_csv, swept_text
    from parts.study.picked_rows import parts_of
    from parts.study.sweep import sweep_part

    found = sweep_part(file, free or (), table)
    chosen = parts_of(found, make_rows) if make_rows else []
    contents = {
        "sweep.csv": swept_csv(found),
        "sweep.svg": sweep_svg(found),
        "sweep.txt": notes_text(found).encode(),
    }
    folder = out / found.stated.part.name
    write(swept_text(found))
    write_line(", ".join(str(one) for one in write_all(folder, contents)))
    raise typer.Exit(made_rows(chosen, folder) if chosen else OK if found.ok.any() else SHORT)
