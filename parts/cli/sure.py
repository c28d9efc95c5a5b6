"""`oneoff sure`: the chance that a part's checks fall short, and what decides it."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write, write_line


@app.command()
def sure(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    load: Annotated[
        list[str] | None,
        typer.Option(
            "--load",
            metavar="[CASE=]SHARE",
            help="How far off the loads are guessed at 95 %, of all cases or of one: `20%`, `side swing=10%`.",
        ),
    ] = None,
    tolerance: Annotated[
        list[str] | None,
        typer.Option(
            "--tolerance",
            metavar="DIMENSION=LENGTH",
            help="Tolerance in place of the sheet's, either way.",
        ),
    ] = None,
    draws: Annotated[
        int,
        typer.Option(
            "--draws", min=0, max=10_000_000, help="Draws; by what the checks cost where 0."
        ),
    ] = 0,
    json: Json = False,
    page: Annotated[
        Path | None, typer.Option("--page", help="HTML file to write charts and tables to.")
    ] = None,
) -> None:
    """Check a part over what sizes, readings, strengths and loads may come to: how likely it falls short, and why."""
    from parts.making.writing import write_all
    from parts.report.sure import sure_json, sure_text
    from parts.study.sure.asked import lengths_of, shares_of
    from parts.study.sure.sure import how_sure

    found = how_sure(
        file, shares_of(load or (), str(file)), lengths_of(tolerance or (), str(file)), draws
    )
    write(sure_json(found).decode() if json else sure_text(found))
    if page:
        from parts.report.page.sure import sure_page

        for one in write_all(page.parent, {page.name: sure_page(found)}):
            if not json:
                write_line(str(one))
