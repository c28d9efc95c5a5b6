"""The `oneoff` command. Nothing imports this module."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from parts.build.build import Build
    from parts.inputs.problems import Problem
    from parts.part import Part
    from parts.proof.files import Written
    from parts.proof.refine import Aim

# Before numpy is imported: the matrices of a check are small, and starting threads costs more than they save.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

OK, SHORT, WRONG_INPUT, FAILED = 0, 1, 2, 3
UNTOLD = (
    "its report and page do not hold the proof: nothing is made of the part as it stands; `oneoff make --prove` "
    "does both"
)
"""What is said of a proof that stands alone in the folder of its part."""

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

    try:
        app()
    except InputError as error:
        _complain(str(error))
        raise SystemExit(WRONG_INPUT) from None
    except OSError as error:
        _complain(f"the disk refused: {error}")
        raise SystemExit(FAILED) from None
    except Exception as error:
        if os.environ.get("ONEOFF_TRACE"):
            raise
        _complain(
            f"a fault of oneoff-parts itself, not of your file: {type(error).__name__}: {error}; nothing was "
            "half written. Report it with the file (ONEOFF_TRACE=1 shows where it happened)"
        )
        raise SystemExit(FAILED) from None
    except KeyboardInterrupt:
        _complain("stopped; files already written are whole")
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

    from parts.build.make import make_build
    from parts.inputs.document import read_document
    from parts.making.make import MakeError, make_part

    wanted = _purposes(purposes or [])

    builds, singles = _builds_and_parts(files)
    read = _read_all(singles)
    waiting = _waiting(builds, out, (chord, math.radians(angle), *wanted))
    made: list[Any] = []
    of_builds: list[Any] = []
    failed = False
    with _progress(len(read) + waiting, quiet=json) as step:
        for build in builds:
            of_builds.append(make_build(build, out, chord, math.radians(angle), wanted, step))
            for sentence in of_builds[-1].failed:
                _complain(sentence)
                failed = True
        for file, part in read.items():
            step(part.name)
            try:
                written = read_document(file)
                made.append(make_part(part, out, chord, math.radians(angle), wanted, written))
            except MakeError as error:
                _complain(str(error))
                failed = True
        _write_index(out, of_builds)
    of_all = [*made, *(one for whole in of_builds for one in whole.made)]
    names = {str(w.build.file_of(n)): w.build.part(n) for w in of_builds for n in w.build.names}
    if gallery is not None and of_all:
        _draw(gallery, of_all)
    proofs, worst = (
        ([], OK) if not proved else _prove_made(of_all, of_builds, read, out, quiet=json)
    )
    if json:
        _say(
            [*made, *(one for whole in of_builds for one in whole.every())],
            {**read, **names},
            json=True,
            proofs=proofs,
        )
    else:
        _say(made, read, json=False, proofs=proofs)
        for one in of_all:
            _write_line(f"{one.result.part.name}: {', '.join(str(file) for file in one.files)}")
        for whole in of_builds:
            _write_build(whole)
    short = _status(made) or (OK if all(whole.ok for whole in of_builds) else SHORT)
    if not json:
        _say_proofs(proofs)
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
    from parts.proof.document import json_of
    from parts.proof.refine import Aim

    read = _read_all(files)
    documents = {part.name: read_document(Path(file)) for file, part in read.items()}
    aim = Aim(error=(error / 100.0) ** 0.5, unknowns=unknowns, seconds=seconds)
    found, worst = _prove(
        list(read.values()), out, aim, quiet=json, jobs=jobs, memory_mb=memory, documents=documents
    )
    if json and found:
        _write(json_of([one.proof for one in found]).decode())
    elif not json:
        _say_proofs(found)
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
    from parts.build.compare import against_last, against_revision, changes_json
    from parts.build.loading import build_of
    from parts.build.records import table
    from parts.making.make import MakeError

    build = build_of(file)
    try:
        found = against_revision(build, against) if against else against_last(build, out)
    except MakeError as error:
        _complain(str(error))
        raise typer.Exit(FAILED) from None
    _write(changes_json(found) if json else table(found))


@app.command()
def check(files: Files, json: Json = False) -> None:
    """Check parts from their dimensions alone; nothing is built or written."""
    import gc

    from parts.sidebyside import side_by_side

    gc.disable()  # a check is over before a collection would pay
    read = list(_read_all(files).items())
    said = side_by_side(partial(_checked, json=json), read)
    if json:
        from parts.report.document import entries_bytes

        _write(entries_bytes(entry for entry, _ in said).decode())
    else:
        for text, _ in said:
            _write(text)
    raise typer.Exit(OK if all(ok for _, ok in said) else SHORT)


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

    from parts.report.page.watch import watch as follow

    with suppress(KeyboardInterrupt):
        follow(file, out, port, _write_now)


@app.command()
def explain(
    file: Annotated[Path, typer.Argument(help="YAML file of the part.", metavar="FILE")],
    name: Annotated[
        str, typer.Argument(help="Name of the check, or the beginning of it.", metavar="[NAME]")
    ] = "",
    case: Annotated[str, typer.Option("--case", help="Only under this load case.")] = "",
) -> None:
    """Show a check as a calculation sheet; the governing one where none is named."""
    from parts.report.sheet import sheet

    result = next(iter(_read_all([file]).values())).check()
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
    _write("\n".join(sheet(one) for one in chosen))


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
        _write(kinds_json() if json else kinds_text())
        return
    try:
        answer = look_up(designation)
    except UnknownDesignation as unknown:
        _complain(str(unknown))
        raise typer.Exit(WRONG_INPUT) from None
    _write(as_json(answer) if json else as_text(answer))


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
    from parts.build.size import size_part
    from parts.report.sized import sizing_json, sizing_text

    found = size_part(file, free, factor, show)
    _write(sizing_json(found) if json else sizing_text(found))
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
    from parts.build.sweep import sweep_part
    from parts.build.sweepmake import parts_of
    from parts.making.files import write_all
    from parts.report.sweepplot import sweep_svg
    from parts.report.swept import notes_text, swept_csv, swept_text

    found = sweep_part(file, free or (), table)
    chosen = parts_of(found, make_rows) if make_rows else []
    contents = {
        "sweep.csv": swept_csv(found),
        "sweep.svg": sweep_svg(found),
        "sweep.txt": notes_text(found).encode(),
    }
    folder = out / found.stated.part.name
    _write(swept_text(found))
    _write_line(", ".join(str(one) for one in write_all(folder, contents)))
    raise typer.Exit(_made_rows(chosen, folder) if chosen else OK if found.ok.any() else SHORT)


def _made_rows(chosen: list[Part], folder: Path) -> int:
    """Make the rows chosen from a sweep, each in a folder of its own."""
    from parts.making.make import MakeError, make_part

    made = []
    with _progress(len(chosen), quiet=False) as step:
        for part in chosen:
            step(part.name)
            try:
                made.append(make_part(part, folder))
            except MakeError as error:
                _complain(str(error))
    for one in made:
        governing = one.result.governing
        said = (
            f"{governing.name}, factor {float(governing.factor):.4g}"
            if governing
            else "no load case"
        )
        _write_line(
            f"{one.result.part.name}: {one.mass:.3f} kg, {said}: {', '.join(str(f) for f in one.files)}"
        )
    return _status(made) if len(made) == len(chosen) else FAILED


@app.command("list")
def list_families(
    family: Annotated[str, typer.Argument(help="Show only this family.", metavar="[FAMILY]")] = "",
    json: Json = False,
) -> None:
    """List the families and their dimensions."""
    from parts.report.catalogue import catalogue, catalogue_json

    chosen = {family: _family(family)} if family else None
    _write(catalogue_json(chosen) if json else catalogue(chosen))


@app.command()
def new(
    family: Annotated[str, typer.Argument(help="Family of the new part.", metavar="FAMILY")],
    file: Annotated[
        Path | None, typer.Option("--out", help="File to write; standard output where left out.")
    ] = None,
) -> None:
    """Write a commented YAML file that makes a valid part at once."""
    from parts.inputs.problems import InputError
    from parts.making.files import write_whole
    from parts.report.starter import starter

    text = starter(_family(family))
    if file is None:
        _write(text)
        return
    if file.exists():
        raise InputError(
            [_of_file(file, "exists", "it exists already", "name another file, or remove this one")]
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
    from parts.making.files import write_all
    from parts.making.print.files import coupon_files
    from parts.making.print.gauge import GaugeError, store
    from parts.making.print.gauge import measured as read_measured

    if not measured:
        for file in write_all(out / "gauge", coupon_files()):
            _write_line(str(file))
        return
    try:
        found = read_measured(measured)
    except GaugeError as error:
        _complain(str(error))
        raise typer.Exit(WRONG_INPUT) from None
    store(printer, found)
    _write_line(f"{printer}: hole_allowance {found.allowance:.3f} mm")
    if not found.steady:
        _complain(
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
    from parts.making.files import write_whole
    from parts.report.schemas import schema_bytes, schema_files

    if family:
        _write(schema_bytes(_family(family)).decode())
        return
    folder = out or Path("schemas")
    for name, content in schema_files().items():
        write_whole(folder / name, content)
        _write_line(str(folder / name))


def _prove_made(
    of_all: list[Any], of_builds: list[Any], read: dict[str, Part], out: Path, *, quiet: bool
) -> tuple[list[Written], int]:
    """Prove what was made in this run, and what of its builds was made before and never proved."""
    from parts.inputs.document import read_document
    from parts.proof.refine import Aim

    made = {one.result.part.name: one for one in of_all}
    parts = {name: one.result.part for name, one in made.items()}
    documents = {part.name: read_document(Path(file)) for file, part in read.items()}
    for whole in of_builds:
        documents |= {name: whole.build.written(name) for name in whole.records}
        for name in whole.records:
            if name not in made and not (out / name / "proof.json").is_file():
                parts[name] = whole.build.part(name)
    return _prove(list(parts.values()), out, Aim(), quiet=quiet, made=made, documents=documents)


def _prove(
    parts: list[Part], out: Path, aim: Aim, *, quiet: bool, **how: Any
) -> tuple[list[Written], int]:
    """Prove parts; what was proved, and the exit status of it."""
    from parts.proof.errors import ProofError
    from parts.proof.files import prove_parts

    with _line(quiet=quiet) as say:
        try:
            found = prove_parts(parts, out, aim, say=say, **how)
        except ProofError as wrong:
            _complain(str(wrong))
            return [], FAILED
    for text in (text for one in found for text in one.proof.failed):
        _complain(text)
    if any(one.proof.failed for one in found):
        return found, FAILED
    return found, OK if all(one.proof.ok for one in found) else SHORT


def _say_proofs(found: list[Written]) -> None:
    from parts.proof.text import text_of

    for one in found:
        _write(text_of(one.proof))
        _write_line(f"{one.proof.part}: {', '.join(str(file) for file in one.files)}")
        _write_line("" if one.reported else UNTOLD)


@contextmanager
def _line(*, quiet: bool) -> Iterator[Callable[[str], None]]:
    """One line that is written over and over, on a terminal only."""
    shown = not quiet and sys.stderr.isatty()

    def say(text: str) -> None:
        if shown:
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()

    try:
        yield say
    finally:
        if shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def _builds_and_parts(files: list[Path]) -> tuple[list[Build], list[Path]]:
    """The builds among files, and the files of parts that no build among them makes."""
    from parts.build.loading import build_of, is_build
    from parts.inputs.document import read_document
    from parts.inputs.problems import InputError
    from parts.making.print.settings import PRINTER

    builds: list[Build] = []
    singles: list[Path] = []
    for file in files:
        if file.name == PRINTER.name and len(files) > 1:
            continue  # it lies beside the parts, and `params/*.yaml` names it with them
        try:
            found = is_build(read_document(file))
        except InputError:
            found = False  # it is read again with the parts, and complained of there
        if found:
            builds.append(build_of(file))
        else:
            singles.append(file)
    theirs = {build.file_of(name).resolve() for build in builds for name in build.names}
    return builds, [file for file in singles if file.resolve() not in theirs]


def _waiting(builds: list[Build], out: Path, options: tuple[object, ...]) -> int:
    """How many parts of builds have to be made; everything wrong in any of them is complained of here."""
    from parts.build.make import stale

    return sum(len(stale(build, out, options)) + 1 for build in builds)


def _write_build(whole: Any) -> None:
    """What a run did to a build: what moved, then where every part stands."""
    from parts.build.records import table

    names = [one.result.part.name for one in whole.made]
    _write_line(f"\n{whole.build.name}: made {', '.join(names) or 'nothing'}")
    _write(table(whole.changes))
    for name, one in whole.records.items():
        factor = (
            "no loads" if one.factor is None else f"factor {one.factor:.3f} of {one.required:g}"
        )
        _write_line(f"{name}: {'holds' if one.ok else 'FALLS SHORT'}, {factor}, {one.governing}")
    for file in whole.files:
        _write_line(str(file))
    if whole.findings:
        _write_line("")
        _write(whole.findings)


def _write_index(out: Path, builds: list[Any]) -> None:
    """The page of the whole folder: every part in it, those of builds first."""
    from parts.build.outputs import counts_of
    from parts.making.files import write_whole
    from parts.report.page.index import PAGE, Together, folder_page

    together = [
        Together(one.name, one.entry.title, counts_of(one), _names_in(out / one.name))
        for one in (whole.build for whole in builds)
    ]
    write_whole(out / PAGE, folder_page(out, together))


def _names_in(folder: Path) -> list[str]:
    return sorted(
        file.name for file in folder.iterdir() if file.is_file() and file.suffix != ".json"
    )


def _draw(file: Path, made: list[Any]) -> None:
    from parts.making.files import write_whole
    from parts.making.gallery import gallery

    write_whole(file, gallery(made))


def _read_all(files: list[Path]) -> dict[str, Part]:
    """Read every file, and complain of all of them at once before anything is made.

    Returns:
        The parts by their file.
    """
    from parts import load
    from parts.inputs.problems import InputError

    parts: dict[str, Part] = {}
    names: dict[str, Path] = {}
    problems: list[Problem] = []
    builds, singles = _builds_and_parts(files)
    reading = [(b.file_of(n), partial(b.part, n)) for b in builds for n in b.names]
    reading += [(file, partial(load, file)) for file in singles]
    for file, read in reading:
        try:
            part = read()
        except InputError as error:
            problems += [problem for problem in error.problems if problem not in problems]
            continue
        twin = names.setdefault(part.name.casefold(), file)
        if twin != file:
            problems.append(
                _of_file(
                    file,
                    "same_name",
                    f"{twin} makes a part called {part.name!r} too",
                    "give each its own name",
                )
            )
        parts[str(file)] = part
    if problems:
        raise InputError(problems)
    return parts


def _of_file(file: Path, code: str, wrong: str, right: str) -> Problem:
    from parts.inputs.problems import Problem

    return Problem(code, str(file), 0, 0, "", "", wrong, right)


def _purposes(names: list[str]) -> list[str]:
    from parts.making.purposes import PURPOSES

    for name in names:
        if name not in PURPOSES:
            known = "; ".join(f"{one} ({what})" for one, (_, what) in PURPOSES.items())
            raise typer.BadParameter(f"nothing is made for {name!r}. What can be made: {known}.")
    return list(dict.fromkeys(names))


def _family(name: str) -> type[Part]:
    import difflib

    from parts.families import families

    known = families()
    # A name without spaces needs no quotes: as in the names of the schemas.
    plain = {_without_spaces(one): one for one in known}
    if _without_spaces(name) not in plain:
        near = difflib.get_close_matches(_without_spaces(name), plain, n=1, cutoff=0.4)
        hint = f"; did you mean {near[0]!r}?" if near else "."
        raise typer.BadParameter(f"no family {name!r}{hint} Families: {', '.join(plain)}.")
    return known[plain[_without_spaces(name)]]


def _without_spaces(name: str) -> str:
    return "-".join(name.casefold().replace("-", " ").split())


def _checked(read: tuple[str, Part], *, json: bool) -> tuple[Any, bool]:
    """What is said of one part, an entry of the JSON document or a text, and whether it holds."""
    from parts.report.document import part_entry
    from parts.report.text import text_report

    file, part = read
    found = part.check()
    return part_entry(found, file) if json else text_report(found) + "\n", found.ok


def _say(
    found: list[Any], read: dict[str, Part], *, json: bool, proofs: list[Written] | None = None
) -> None:
    from parts.report.document import json_bytes
    from parts.report.text import text_report

    proved = {one.proof.part: one.proof for one in proofs or []}
    if json:
        files = {part.name: file for file, part in read.items()}
        _write(json_bytes(found, files, proved).decode())
        return
    for one in found:
        name = getattr(one, "result", one).part.name
        _write(text_report(one, proved.get(name)) + "\n")


def _status(found: list[Any]) -> int:
    return OK if all(getattr(one, "result", one).ok for one in found) else SHORT


@contextmanager
def _progress(total: int, *, quiet: bool) -> Iterator[Callable[[str], None]]:
    """A line that tells which part is being made, on a terminal only."""
    shown = not quiet and sys.stderr.isatty()
    done = 0

    def step(name: str) -> None:
        nonlocal done
        done += 1
        if shown:
            sys.stderr.write(f"\r\x1b[Kmaking {name} ({done} of {total})")
            sys.stderr.flush()

    try:
        yield step
    finally:
        if shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def _write(text: str) -> None:
    sys.stdout.write(text)


def _write_now(line: str) -> None:
    """A line that is seen at once, also through a pipe."""
    _write_line(line)
    sys.stdout.flush()


def _write_line(text: str) -> None:
    _write(text + "\n")


def _complain(text: str) -> None:
    sys.stderr.write(text.rstrip() + "\n")


if __name__ == "__main__":
    main()
