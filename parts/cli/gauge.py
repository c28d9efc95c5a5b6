"""`oneoff gauge`: the hole gauge for the builder's printer."""

from pathlib import Path
from typing import Annotated

import typer

from parts.cli.app import Out, app
from parts.cli.saying import complain, write_line
from parts.cli.telling import WRONG_INPUT


@app.command()
def gauge(
    measured: Annotated[
        str,
        typer.Option("--measured", help="What its holes measure, as in `3.0=2.84, 5.0=4.86`, mm."),
    ] = "",
    printer: Annotated[
        Path, typer.Option("--printer", help="File of the printer, to which the allowance goes.")
    ] = Path("params/printer.yaml"),
    out: Out = Path("outputs"),
) -> None:
    """Make the hole gauge for your printer; with --measured, store the allowance that it found."""
    from parts.core import kernel
    from parts.inputs.names import GAUGE
    from parts.making.print.files import coupon_files
    from parts.making.print.gauge import GaugeError, store
    from parts.making.print.gauge import measured as read_measured
    from parts.making.writing import write_all

    if not measured:
        kernel.needed()
        for file in write_all(out / GAUGE, coupon_files()):
            write_line(str(file))
        return
    try:
        found = read_measured(measured)
    except GaugeError as error:
        complain(str(error))
        raise typer.Exit(WRONG_INPUT) from None
    store(printer, found)
    write_line(f"{printer}: hole_allowance {found.allowance:.3f} mm")
    if not found.steady:
        complain(
            f"the holes differ by up to {found.scatter:.2f} mm from that: one allowance does not fit them all; "
            "measure again, or state hole_allowance in the part for the hole that matters"
        )
