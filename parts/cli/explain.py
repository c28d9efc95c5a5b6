"""`oneoff explain`: a check as a calculation sheet."""

import textwrap
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from parts.cli.app import app
from parts.cli.reading import builds_and_parts, read_all
from parts.cli.saying import complain, write
from parts.cli.telling import WRONG_INPUT

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.vehicle.checks import BuildResult


@app.command()
def explain(
    file: Annotated[
        Path, typer.Argument(help="YAML file of the part or the build.", metavar="FILE")
    ],
    name: Annotated[
        str, typer.Argument(help="Name of the check, or words of it.", metavar="[NAME]")
    ] = "",
    case: Annotated[str, typer.Option("--case", help="Only under this load case.")] = "",
) -> None:
    """Show a check as a calculation sheet; the governing one where none is named."""
    from parts.core.cautions import IN_SHORT
    from parts.report.calculation import WIDTH, sheet

    result, whose = _checked(file)
    chosen = [
        one
        for one in result.checks
        if name.casefold() in one.name.casefold() and case in ("", one.load_case)
    ]
    exact = [one for one in chosen if one.name.casefold().startswith(name.casefold())]
    chosen = exact or chosen
    if not name and not case:
        chosen = [result.governing] if result.governing else []
    if not chosen:
        names = dict.fromkeys(one.name for one in result.checks)
        complain(f"no check of {whose} is called `{name}`. Its checks are:")
        complain("\n".join(f"  {one}" for one in names) or "  none: the part has no load case")
        raise typer.Exit(WRONG_INPUT)
    write("\n".join([*(sheet(one) for one in chosen), *textwrap.wrap(IN_SHORT, WIDTH)]) + "\n")


def _checked(file: Path) -> "tuple[Result | BuildResult, str]":
    """What the checks of a file say, and whose they are."""
    builds, _ = builds_and_parts([file])
    if builds:
        from parts.vehicle.checks import check_build

        return check_build(builds[0]), f"the build {builds[0].name} itself"
    (part,) = read_all([file]).values()
    return part.check(), part.name
