"""The `oneoff` command. Nothing imports this module."""

# Annotations are not postponed here: typer reads those of every command, and would compile each anew.
import os
from pathlib import Path
from typing import Annotated, Any

import typer

from parts.cli.leaving import draw, made_rows, waiting, write_index
from parts.cli.proving import prove as prove_these
from parts.cli.proving import prove_made
from parts.cli.reading import (
    builds_and_parts,
    family_of,
    of_file,
    purposes_of,
    read_all,
    read_with_builds,
)
from parts.cli.saying import (
    complain,
    progress,
    say_in_utf_8,
    say_the_rest,
    write,
    write_line,
    write_now,
)
from parts.cli.telling import (
    FAILED,
    OK,
    SHORT,
    WRONG_INPUT,
    say_build,
    say_checked,
    say_parts,
    say_proofs,
    status_of,
)

# Before numpy is imported: the matrices of a check are small, and starting threads costs more than they save.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Before pydantic builds a model: a check hangs on its input alone, not on what else is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

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
Out = Annotated[Path, typer.Option("--out", help="Folder for the outputs.")]


def main() -> None:
    """Run the command, and turn what a user can cause into one clear message and an exit status."""
    from parts.inputs.problems import InputError

    say_in_utf_8()
    try:
        try:
            app()
        finally:
            say_the_rest()
    except InputError as error:
        complain(str(error))
        raise SystemExit(WRONG_INPUT) from None
    except OSError as error:
        complain(f"the disk refused: {error}")
        raise SystemExit(FAILED) from None
    except Exception as error:
        if os.environ.get("ONEOFF_TRACE"):
            raise
        complain(
            f"a fault of oneoff-parts itself, not of your file: {type(error).__name__}: {error}; nothing was "
            "half written. Report it with the file (ONEOFF_TRACE=1 shows where it happened)"
        )
        raise SystemExit(FAILED) from None
    except KeyboardInterrupt:
        complain("stopped; files already written are whole")
        raise SystemExit(FAILED) from None


@app.command()
def make(
    files: Files,
    out: Out = Path("outputs"),
    json: Json = False,
    chord: Annotated[
        float, typer.Option(min=0.001, max=5.0, help="STL: distance from the surface, mm.")
    ] = 0.05,
    angle: Annotated[
        float, typer.Option(min=1.0, max=60.0, help="STL: angle between facets, degrees.")
    ] = 12.0,
    purposes: Annotated[
        list[str] | None,
        typer.Option(
            "--for", help="What else it is for, as in bench; may be repeated.", metavar="PURPOSE"
        ),
    ] = None,
    gallery: Annotated[
        Path | None, typer.Option(help="Draw the parts of this run in one picture, a PNG.")
    ] = None,
    proved: Annotated[
        bool, typer.Option("--prove", help="Prove what was made by finite elements as well.")
    ] = False,
) -> None:
    """Make parts: STEP, STL and reports, each part in a folder of its own.

    Of a build, whatever depends on what changed since the last run, and nothing else.
    """
    import math

    from parts.folders.build import make_build
    from parts.folders.part_files import make_part
    from parts.inputs.document import read_document
    from parts.making.model import MakeError

    wanted = purposes_of(purposes or [])
    builds, singles = builds_and_parts(files)
    read = read_all(singles)
    to_make = len(read) + waiting(builds, out, (chord, math.radians(angle), *wanted))
    made: list[Any] = []
    of_builds: list[Any] = []
    failed = False
    with progress(to_make, quiet=json) as step:
        for build in builds:
            of_builds.append(make_build(build, out, chord, math.radians(angle), wanted, step))
            for sentence in of_builds[-1].failed:
                complain(sentence)
                failed = True
        for file, part in read.items():
            step(part.name)
            try:
                written = read_document(file)
                made.append(make_part(part, out, chord, math.radians(angle), wanted, written))
            except MakeError as error:
                complain(str(error))
                failed = True
        write_index(out, of_builds)
    of_all = [*made, *(one for whole in of_builds for one in whole.made)]
    names = {str(w.build.file_of(n)): w.build.part(n) for w in of_builds for n in w.build.names}
    if gallery is not None and of_all:
        draw(gallery, of_all)
    proofs, worst = ([], OK) if not proved else prove_made(of_all, of_builds, read, out, quiet=json)
    if json:
        say_parts(
            [*made, *(one for whole in of_builds for one in whole.every())],
            {**read, **names},
            json=True,
            proofs=proofs,
            builds=[whole.own for whole in of_builds],
        )
    else:
        say_parts(made, read, json=False, proofs=proofs)
        for one in of_all:
            write_line(f"{one.result.part.name}: {', '.join(str(file) for file in one.files)}")
        for whole in of_builds:
            say_build(whole)
    short = status_of(made) or (OK if all(whole.ok for whole in of_builds) else SHORT)
    if not json:
        say_proofs(proofs)
    short, failed = max(short, SHORT * (worst == SHORT)), failed or worst == FAILED
    raise typer.Exit(FAILED if failed else short)


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
        float, typer.Option(min=1.0, help="Time to stop refining a part after, seconds.")
    ] = 120.0,
    memory: Annotated[int, typer.Option(min=0, help="Most memory of a part, MB; 0 sets none.")] = 0,
    jobs: Annotated[
        int, typer.Option(min=0, help="Parts at a time; 0 takes one for each core.")
    ] = 0,
) -> None:
    """Prove parts: finite elements on their solids, beside the hand calculation.

    Exit status 1 where both disagree beyond their bands, 3 where a part could not be proved.
    """
    from parts.inputs.document import read_document
    from parts.proof.refine import Aim
    from parts.report.proof.document import json_of

    read = read_all(files)
    documents = {part.name: read_document(Path(file)) for file, part in read.items()}
    aim = Aim(error=(error / 100.0) ** 0.5, unknowns=unknowns, seconds=seconds)
    found, worst = prove_these(
        list(read.values()), out, aim, quiet=json, jobs=jobs, memory_mb=memory, documents=documents
    )
    if json and found:
        write(json_of([one.proof for one in found]).decode())
    elif not json:
        say_proofs(found)
    raise typer.Exit(worst)


@app.command()
def changes(
    file: Annotated[Path, typer.Argument(help="YAML file of the build.", metavar="FILE")],
    against: Annotated[
        str, typer.Option("--against", help="A revision of git; the last build where left out.")
    ] = "",
    out: Out = Path("outputs"),
    json: Json = False,
) -> None:
    """Show what moved in a build: dimension, mass, governing factor, before and after."""
    from parts.folders.changes import against_last, against_revision, changes_json
    from parts.folders.records import table
    from parts.making.model import MakeError
    from parts.vehicle.file.loading import build_of

    build = build_of(file)
    try:
        found = against_revision(build, against) if against else against_last(build, out)
    except MakeError as error:
        complain(str(error))
        raise typer.Exit(FAILED) from None
    write(changes_json(found) if json else table(found))


@app.command()
def check(files: Files, json: Json = False) -> None:
    """Check parts from their dimensions alone; nothing is built or written."""
    import gc

    gc.disable()  # a check is over before a collection would pay
    read, builds = read_with_builds(files)
    status = say_checked(read, builds, json=json)
    gc.freeze()  # nor would one at the end, through all that was loaded, of a process that is over
    raise typer.Exit(status)


@app.command()
def watch(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    out: Out = Path("outputs"),
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port of the page; any free one for 0.")
    ] = 0,
) -> None:
    """Make a part again at each save, and show it in a page that follows; Ctrl-C ends it."""
    from contextlib import suppress

    from parts.cli.watching import watch as follow

    with suppress(KeyboardInterrupt):
        follow(file, out, port, write_now)


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
        known = (
            ", ".join(dict.fromkeys(one.name for one in result.checks))
            or "none: the part has no load case"
        )
        raise typer.BadParameter(f"no check of this part is called so. Its checks: {known}.")
    write("\n".join(sheet(one) for one in chosen))


@app.command()
def lookup(
    designation: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[KIND] DESIGNATION...",
            help="What to look up, as in `thread 3/8-24 UNF LH` or `6202`; nothing lists the kinds.",
        ),
    ] = None,
    json: Json = False,
) -> None:
    """Look up a standard part, thread, fit, drill, stock size or material."""
    from parts.report.lookup import as_json, as_text, kinds_json, kinds_text, look_up
    from parts.standards.designation import UnknownDesignation

    if not designation:
        write(kinds_json() if json else kinds_text())
        return
    try:
        answer = look_up(designation)
    except UnknownDesignation as unknown:
        complain(str(unknown))
        raise typer.Exit(WRONG_INPUT) from None
    write(as_json(answer) if json else as_text(answer))


@app.command()
def size(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    free: Annotated[
        list[str],
        typer.Option(
            "--free",
            metavar="DIMENSION",
            help="Dimension to size, as in `plate.thickness`, by its "
            "standard sizes; or with the values to try, as in `ears.width=20 mm, 22 mm`.",
        ),
    ],
    factor: Annotated[
        float,
        typer.Option(min=1.0, max=20.0, help="Least factor on yield and on ultimate strength."),
    ],
    show: Annotated[
        int, typer.Option(min=1, max=20, help="How many sizes that hold are shown.")
    ] = 3,
    json: Json = False,
) -> None:
    """Find the smallest standard size that meets every rule and check."""
    from parts.report.sized import sizing_json, sizing_text
    from parts.study.size import size_part

    found = size_part(file, free, factor, show)
    write(sizing_json(found) if json else sizing_text(found))
    raise typer.Exit(OK if found.choices else SHORT)


@app.command()
def sweep(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    free: Annotated[
        list[str] | None,
        typer.Option(
            "--free",
            metavar="DIMENSION=VALUES",
            help="Values of a dimension, as in "
            "`ears.thickness=4 mm to 8 mm by 0.5 mm`; every combination is a row.",
        ),
    ] = None,
    table: Annotated[
        Path | None, typer.Option("--table", help="CSV file of rows, dimensions in its first line.")
    ] = None,
    out: Out = Path("outputs"),
    make_rows: Annotated[
        str,
        typer.Option("--make", metavar="ROWS", help="Rows to make: numbers, `lightest` or `edge`."),
    ] = "",
) -> None:
    """Check a table of variants; write them as CSV, and mass against factor as a plot."""
    from parts.making.writing import write_all
    from parts.report.sweepplot import sweep_svg
    from parts.report.swept import notes_text, swept_csv, swept_text
    from parts.study.picked_rows import parts_of
    from parts.study.sweep import sweep_part

    found = sweep_part(file, free or (), table)
    chosen = parts_of(found, make_rows) if make_rows else []
    contents = {
        "sweep.csv": swept_csv(found),
        "sweep.svg": sweep_svg(found),
        "sweep.txt": notes_text(found).encode(),
    }
    folder = out / found.stated.part.name
    write(swept_text(found))
    write_line(", ".join(str(one) for one in write_all(folder, contents)))
    raise typer.Exit(made_rows(chosen, folder) if chosen else OK if found.ok.any() else SHORT)


@app.command("list")
def list_families(
    family: Annotated[str, typer.Argument(help="Show only this family.", metavar="[FAMILY]")] = "",
    json: Json = False,
) -> None:
    """List the families and their dimensions."""
    from parts.report.catalogue import catalogue, catalogue_json

    chosen = {family: family_of(family)} if family else None
    write(catalogue_json(chosen) if json else catalogue(chosen))


@app.command()
def new(
    family: Annotated[str, typer.Argument(help="Family of the new part.", metavar="FAMILY")],
    file: Annotated[
        Path | None, typer.Option("--out", help="File to write; standard output where left out.")
    ] = None,
) -> None:
    """Write a commented YAML file that makes a valid part at once."""
    from parts.inputs.problems import InputError
    from parts.making.writing import write_whole
    from parts.report.starter import starter

    text = starter(family_of(family))
    if file is None:
        write(text)
        return
    if file.exists():
        raise InputError(
            [of_file(file, "exists", "it exists already", "name another file, or remove this one")]
        )
    write_whole(file, text.encode())


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
    from parts.inputs.names import GAUGE
    from parts.making.print.files import coupon_files
    from parts.making.print.gauge import GaugeError, store
    from parts.making.print.gauge import measured as read_measured
    from parts.making.writing import write_all

    if not measured:
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


@app.command()
def schema(
    family: Annotated[
        str, typer.Argument(help="Print the schema of this family only.", metavar="[FAMILY]")
    ] = "",
    out: Annotated[
        Path | None, typer.Option("--out", help="Write one file a family into this folder.")
    ] = None,
) -> None:
    """Write the JSON Schema of each family's YAML, for editors."""
    from parts.making.writing import write_whole
    from parts.report.schemas import schema_bytes, schema_files

    if family:
        write(schema_bytes(family_of(family)).decode())
        return
    folder = out or Path("schemas")
    for name, content in schema_files().items():
        write_whole(folder / name, content)
        write_line(str(folder / name))


if __name__ == "__main__":
    main()
