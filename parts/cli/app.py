"""The command as a whole, and the options that several commands share."""

# Annotations are not postponed here, nor where a command is: typer reads them, and would compile each anew.
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Hard parts for one-off vehicles: from a YAML file to solids and a stress check.",
    epilog="Exit status: 0 all is well; 1 a check falls short; 2 the input is wrong; "
    "3 the geometry or the disk failed.",
)

Files = Annotated[
    list[Path],
    typer.Argument(
        help="YAML files, each of one part or of a build of several.", metavar="FILE..."
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
All = Annotated[
    bool, typer.Option("--all", help="Show every check, what holds the part, and all cautions.")
]
On = Annotated[
    str,
    typer.Option(
        "--on",
        metavar="ADDRESS",
        help="Do it on a cluster: the address of a dask.distributed scheduler, as tcp://10.0.0.5:8786. Its machines "
        "see the folders of this one.",
    ),
]
Out = Annotated[Path, typer.Option("--out", help="Folder for the outputs.")]
