"""`oneoff prove`: finite elements on the solids, beside the hand calculation."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Files, Json, Out, app
from parts.cli.proving import prove as prove_parts_of
from parts.cli.reading import read_all
from parts.cli.saying import write
from parts.cli.telling import say_proofs


@app.command()
def prove(
    files: Files,
    out: Out = Path("outputs"),
    json: Json = False,
    error: Annotated[
        float,
        typer.Option(min=0.01, max=20.0, help="Error of the strain energy to reach, per cent."),
    ] = 3.0,
    unknowns: Annotated[
        int, typer.Option(min=5_000, max=5_000_000, help="Unknowns of a piece to stop refining at.")
    ] = 200_000,
    seconds: Annotated[
        float, typer.Option(min=1.0, help="Processor time to stop refining a part after, seconds.")
    ] = 120.0,
    memory: Annotated[int, typer.Option(min=0, help="Most memory of a part, MB; 0 sets none.")] = 0,
    jobs: Annotated[
        int, typer.Option(min=0, help="Parts at a time; 0 takes one for each core.")
    ] = 0,
) -> None:
    """Prove parts: finite elements on their solids, beside the hand calculation.

    Exit status 1 where both disagree beyond their bands, 3 where a part could not be proved.
    """
    from parts.core import kernel
    from parts.inputs.document import read_document
    from parts.proof.refine import Aim
    from parts.report.proof.document import json_of

    kernel.needed()
    read = read_all(files)
    documents = {part.name: read_document(Path(file)) for file, part in read.items()}
    aim = Aim(error=(error / 100.0) ** 0.5, unknowns=unknowns, seconds=seconds)
    found, worst = prove_parts_of(
        list(read.values()), out, aim, quiet=json, jobs=jobs, memory_mb=memory, documents=documents
    )
    if json and found:
        write(json_of([one.proof for one in found]).decode())
    elif not json:
        say_proofs(found)
    raise typer.Exit(worst)
