"""`oneoff sweep`: tables of variants."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from parts.cli.app import On, Out, app
from parts.cli.saying import complain, progress, write, write_line
from parts.cli.telling import FAILED, OK, SHORT, status_of

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.study.sweep import Swept


@app.command()
def sweep(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    free: Annotated[
        list[str] | None,
        typer.Option(
            "--free",
            metavar="DIMENSION=VALUES",
            help="Values of a dimension or option, as in `ears.thickness=4 mm to 8 mm by 0.5 mm` or "
            "`pin.bolt=AN6, NAS6306`; every combination is a row.",
        ),
    ] = None,
    table: Annotated[
        Path | None, typer.Option("--table", help="CSV file of rows, dimensions in its first line.")
    ] = None,
    check: Annotated[
        str,
        typer.Option(
            "--check", help="Beginning of a check's name: show what each row leaves of it."
        ),
    ] = "",
    out: Out = Path("outputs"),
    make_rows: Annotated[
        str,
        typer.Option("--make", metavar="ROWS", help="Rows to make: numbers, `lightest` or `edge`."),
    ] = "",
    solids: Annotated[
        bool,
        typer.Option(
            "--solids", help="Build each row too: its mass and checks by the solid, as made."
        ),
    ] = False,
    proved: Annotated[
        bool, typer.Option("--prove", help="Prove each row by finite elements too.")
    ] = False,
    on: On = "",
) -> None:
    """Check a table of variants; write them as CSV, and mass against factor as a plot."""
    from parts.core import kernel
    from parts.making.writing import write_all
    from parts.report.sweepplot import sweep_svg
    from parts.report.swept import notes_text, swept_csv, swept_text
    from parts.study.picked_rows import parts_of
    from parts.study.sweep import sweep_part

    kernel.needed()
    found = sweep_part(file, free or (), table, check)
    chosen = parts_of(found, make_rows) if make_rows else []
    contents = {
        "sweep.csv": swept_csv(found),
        "sweep.svg": sweep_svg(found),
        "sweep.txt": notes_text(found).encode(),
    }
    folder = out / found.stated.part.name
    write(swept_text(found))
    write_line(", ".join(str(one) for one in write_all(folder, contents)))
    status = _made_rows(chosen, folder) if chosen else OK if found.ok.any() else SHORT
    if solids:
        status = max(status, _rows_by(found, folder / "solids.csv", on, proved=False))
    if proved:
        status = max(status, _rows_by(found, folder / "proofs.csv", on, proved=True))
    raise typer.Exit(status)


def _rows_by(found: "Swept", file: Path, on: str, *, proved: bool) -> int:
    """Work out every row by its solid or by finite elements, and say what came of them."""
    from collections import Counter

    from parts.cli.executing import executor_of
    from parts.folders.swept_rows import AGREE, HOLDS, rows_by
    from parts.running.pieces import Here

    many = int((found.broken == "").sum())
    with progress(many, quiet=False) as step:
        executor = executor_of(on, many) or Here()
        table, lost = rows_by(
            found, file, executor, proved=proved, begun=lambda key: step(f"row {key}")
        )
    for sentence in lost:
        complain(sentence)
    verdicts = Counter(row["verdict"] for row in table.rows.values())
    said = ", ".join(f"{count} {verdict}" for verdict, count in sorted(verdicts.items()))
    write_line(f"{file}: {said or 'no row meets its rules'}")
    good = verdicts[AGREE] == len(table.rows) if proved else verdicts[HOLDS] > 0
    return FAILED if lost else OK if good else SHORT


def _made_rows(chosen: "list[Part]", folder: Path) -> int:
    """Make the rows chosen from a sweep, each in a folder of its own."""
    from parts.folders.part_files import make_part
    from parts.making.model import MakeError

    made = []
    with progress(len(chosen), quiet=False) as step:
        for part in chosen:
            step(part.name)
            try:
                made.append(make_part(part, folder))
            except MakeError as error:
                complain(str(error))
    for one in made:
        governing = one.result.governing
        said = (
            f"{governing.name}, factor {float(governing.factor):.4g}"
            if governing
            else "no load case"
        )
        write_line(
            f"{one.result.part.name}: {one.mass:.3f} kg, {said}: {', '.join(str(f) for f in one.files)}"
        )
    return status_of(made) if len(made) == len(chosen) else FAILED
