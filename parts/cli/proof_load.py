"""`oneoff proof-load`: a test that shows that a finished part bears its load, and what its readings say."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Json, Out, app
from parts.cli.reading import of_file
from parts.cli.saying import complain, one_line, write, write_line
from parts.cli.telling import FAILED, OK, SHORT


@app.command("proof-load")
def proof_load(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    case: Annotated[
        str,
        typer.Option(
            "--case", help="Load case to prove; the one that governs the metal where left out."
        ),
    ] = "",
    readings: Annotated[
        Path | None,
        typer.Option("--readings", help="CSV of what was read, as proof-load.csv filled in."),
    ] = None,
    test: Annotated[
        Path | None,
        typer.Option("--test", help="Judge by this proof-load.json, without solving again."),
    ] = None,
    out: Out = Path("outputs"),
    json: Json = False,
) -> None:
    """Write the sheet of a proof load: where to hold and pull, what the gauges must read; or judge what they read.

    Exit status 1 where the readings do not hold, 3 where no load proves the part without using it up.
    """
    from parts import load
    from parts.core import kernel
    from parts.inputs.document import read_document
    from parts.inputs.problems import InputError
    from parts.inputs.reading import wanted_as
    from parts.making.writing import write_all
    from parts.proof.errors import ProofError
    from parts.proof.gauges import TABLE, judged, kept, was_filled
    from parts.proof.picture import no_more, pictures_of
    from parts.proof.proof_load import proof_load as found_for
    from parts.report.proof.load import blank_csv, judged_json, judged_text, load_text, record_json
    from parts.report.proof.load_sheet import load_pdf

    wanted_as(read_document(file), "part")
    part = load(file)
    if test is not None:
        if readings is None:
            raise typer.BadParameter("name what was read with --readings")
        known = kept(test)
        if stale := known.stale(part):
            raise InputError([of_file(test, "other_test", f"this test proves nothing of {file}: {stale}",
                                      "make a new sheet with `oneoff proof-load`")])  # fmt: skip
        said = judged(known, readings)
        write(judged_json(said).decode() if json else judged_text(said))
        raise typer.Exit(OK if said.ok else SHORT)
    kernel.needed()
    filled = out / part.name / TABLE
    if readings is None and filled.is_file() and was_filled(filled):
        raise InputError([of_file(filled, "filled", "this table holds readings, and a new sheet would write over it",
                                  "move it elsewhere, or judge it with --readings")])  # fmt: skip
    try:
        with one_line(quiet=json) as say:
            found = found_for(part, case, say=say)
    except ProofError as wrong:
        complain(str(wrong))
        raise typer.Exit(FAILED) from None
    verdict = None if readings is None else judged(found, readings)
    if verdict is None:
        pictures = pictures_of(found.part, found.proved)
        no_more()
        contents = {
            "proof-load.txt": load_text(found).encode(),
            "proof-load.pdf": load_pdf(found, pictures),
            TABLE: blank_csv(found),
        }
    else:
        contents = {}
    contents["proof-load.json"] = record_json(found, verdict)
    files = write_all(out / part.name, contents)
    if json:
        write(contents["proof-load.json"].decode())
    else:
        write(load_text(found) if verdict is None else judged_text(verdict))
        for one in files:
            write_line(str(one))
    raise typer.Exit(OK if verdict is None or verdict.ok else SHORT)
