"""`oneoff sure`: the chance that a part's checks fall short, and what decides it."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write, write_named


@app.command()
def sure(
    file: Annotated[Path, typer.Argument(help="YAML file of a part or a build.", metavar="FILE")],
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
    """Check a part over what sizes, readings, strengths and loads may come to: how likely it falls short, and why.

    Of a build: its tolerance chains, worst case and by draws: joints, links, lines, and places taken from hardpoints.
    """
    from parts.inputs.document import read_document
    from parts.inputs.reading import is_build

    if is_build(read_document(file)):
        _chains(file, json, page)
        return
    from parts.report.sure import sure_json, sure_text
    from parts.study.sure.asked import lengths_of, shares_of
    from parts.study.sure.sure import how_sure

    found = how_sure(
        file, shares_of(load or (), str(file)), lengths_of(tolerance or (), str(file)), draws
    )
    write(sure_json(found).decode() if json else sure_text(found))
    if page:
        from parts.report.page.sure import sure_page

        write_named(page, ".html", sure_page(found), quiet=json)


def _chains(file: Path, json: bool, page: Path | None) -> None:
    from parts.report.chains import chains_json, chains_text
    from parts.study.sure.chains import chains_of
    from parts.vehicle.file.loading import build_of

    build = build_of(file)
    found = chains_of(build)
    write(chains_json(build.name, found).decode() if json else chains_text(build.name, found))
    if page:
        from parts.report.page.chains import chains_page

        write_named(page, ".html", chains_page(build.name, found), quiet=json)
