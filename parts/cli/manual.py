"""`oneoff manual`: the whole manual as pages that open offline."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from parts.cli.app import app
from parts.cli.saying import write, write_now

if TYPE_CHECKING:
    from parts.report.manual.pages import Command


@app.command()
def manual(
    out: Annotated[Path, typer.Option("--out", help="Folder of the pages.")] = Path("manual"),
) -> None:
    """Write the manual: families with their keys, builds, look-ups, what can fail, methods, messages, commands."""
    from parts.core import kernel
    from parts.making.bench.key import key
    from parts.making.bench.load_points import load_points
    from parts.making.writing import write_whole
    from parts.report.manual.pages import manual as pages

    kernel.needed()
    out.mkdir(parents=True, exist_ok=True)
    count = 0
    for name, content in pages(
        tuple(commands()), lambda part: key(part).svg, load_points, write_now
    ):
        write_whole(out / name, content)
        count += 1
    write(f"{out / 'index.html'}: {count} pages\n")


def commands() -> "Iterator[Command]":
    """Every command of the terminal with its arguments and options."""
    from parts.report.manual.pages import Command

    group = typer.main.get_command(app)
    for name, one in group.commands.items():  # type: ignore[attr-defined]
        takes = [
            (
                ", ".join(p.opts) if p.param_type_name == "option" else p.metavar or p.name.upper(),
                p.help or "",
            )
            for p in one.params
        ]
        yield Command(name, (one.help or "").strip().partition("\n")[0], takes)
