"""`oneoff explain`: a check as a calculation sheet."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import app
from parts.cli.reading import of_file, read_all
from parts.cli.saying import complain, write
from parts.cli.telling import WRONG_INPUT


@app.command()
def explain(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    name: Annotated[
        str, typer.Argument(help="Name of the check, or the beginning of it.", metavar="[NAME]")
    ] = "",
    case: Annotated[str, typer.Option("--case", help="Only under this load case.")] = "",
) -> None:
    """Show a check as a calculation sheet; the governing one where none is named."""
    from parts.inputs.problems import InputError
    from parts.report.calculation import sheet

    part, *others = read_all([file]).values()
    if others:
        wrong = f"this is a build of {1 + len(others)} parts"
        raise InputError([of_file(file, "is_build", wrong, "name the file of one of them")])
    result = part.check()
    chosen = [
        one
        for one in result.checks
        if one.name.casefold().startswith(name.casefold()) and case in ("", one.load_case)
    ]
    if not name and not case:
        chosen = [result.governing] if result.governing else []
    if not chosen:
        names = dict.fromkeys(one.name for one in result.checks)
        complain(f"no check of {part.name} is called `{name}`. Its checks are:")
        complain("\n".join(f"  {one}" for one in names) or "  none: the part has no load case")
        raise typer.Exit(WRONG_INPUT)
    write("\n".join(sheet(one) for one in chosen))
