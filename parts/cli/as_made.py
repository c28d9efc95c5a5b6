"""`oneoff as-made`: a part checked with the sizes that were measured on it."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, app
from parts.cli.saying import write, write_named
from parts.cli.telling import OK, SHORT


@app.command("as-made")
def as_made(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    sizes: Annotated[
        Path | None,
        typer.Argument(
            help="CSV file with columns dimension, measured, within; a filled inspection sheet; or the record of a "
            "piece. The record in the folder `made` beside the part's file where left out.",
            metavar="SIZES",
        ),
    ] = None,
    blank: Annotated[
        Path | None,
        typer.Option(
            "--blank",
            help="Write a CSV to be filled in, or a record where it ends in .yaml; and stop.",
        ),
    ] = None,
    card: Annotated[
        Path | None, typer.Option("--card", help="PDF to write the card of the piece to.")
    ] = None,
    json: Json = False,
) -> None:
    """Check a part as it was made: measured sizes in place of stated ones, joints as they are, what got worse first.

    Exit status 1 where it then breaks a rule, falls short, or a joint does not go together.
    """
    from parts.report.as_made import as_made_json, as_made_text, good
    from parts.report.as_made import card as card_of
    from parts.study.made.as_made import as_made as checked
    from parts.study.made.record import blank_record, is_record
    from parts.study.made.size_table import blank_csv
    from parts.study.stating import Stated

    if blank is not None:
        content = blank_record(Stated(file).part) if is_record(blank) else blank_csv(file)
        write_named(blank, blank.suffix if is_record(blank) else ".csv", content, anew=True)
        return
    found = checked(file, sizes)
    write(as_made_json(found).decode() if json else as_made_text(found))
    if card is not None:
        from parts.report.proof.load_sheet import blocks_pdf

        title = f"{found.stated.part.name} as made"
        write_named(card, ".pdf", blocks_pdf(title, card_of(found), ("SIZES",)), quiet=json)
    raise typer.Exit(OK if good(found) else SHORT)
