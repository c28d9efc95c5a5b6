"""`oneoff make`: parts and builds, from their files to the folders of their outputs."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from parts.cli.app import All, Files, Json, On, Out, app
from parts.cli.proving import prove_made
from parts.cli.reading import builds_and_parts, purposes_of, read_all
from parts.cli.saying import complain, progress, write, write_line
from parts.cli.straight import OUTPUTS
from parts.cli.telling import (
    FAILED,
    OK,
    SHORT,
    build_said,
    say_gone,
    say_parts,
    say_proofs,
    status_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from parts.core.part import Part
    from parts.folders.build import BuildMade
    from parts.report.page.index import Together
    from parts.running.pieces import Executor
    from parts.vehicle.build import Build

CHORD, ANGLE = 0.05, 12.0


@app.command()
def make(
    files: Files,
    out: Out = OUTPUTS,
    every: All = False,
    json: Json = False,
    chord: Annotated[
        float, typer.Option(min=0.001, max=5.0, help="STL: distance from the surface, mm.")
    ] = CHORD,
    angle: Annotated[
        float, typer.Option(min=1.0, max=60.0, help="STL: angle between facets, degrees.")
    ] = ANGLE,
    purposes: Annotated[
        list[str] | None,
        typer.Option(
            "--for", help="What else it is for, as in bench; may be repeated.", metavar="PURPOSE"
        ),
    ] = None,
    packet: Annotated[
        bool,
        typer.Option(
            "--packet",
            help="For each shop one PDF and one ZIP of all that it needs: saw, mill, lathe, waterjet, printer, "
            "welder, bench.",
        ),
    ] = False,
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Make all of a build anew, whatever stands there.")
    ] = False,
    gallery: Annotated[
        Path | None, typer.Option(help="Draw the parts of this run in one picture, a PNG.")
    ] = None,
    on: On = "",
    proved: Annotated[
        bool, typer.Option("--prove", help="Prove what was made by finite elements as well.")
    ] = False,
) -> None:
    """Make parts: STEP, STL and reports, each part in a folder of its own.

    Of a build, whatever depends on what changed since the last run, and nothing else.
    """
    import math

    from parts.cli.executing import executor_of
    from parts.core import kernel
    from parts.folders.side_by_side import name_of
    from parts.making.purposes import PURPOSES

    kernel.needed()
    wanted = purposes_of([*(purposes or []), *(PURPOSES if packet else ())])
    builds, singles = builds_and_parts(files)
    read = read_all(singles)
    to_make = len(read) + _waiting(builds, out, (chord, math.radians(angle), *wanted), fresh)
    of_builds: list[Any] = []
    failed = False
    here = packet or proved or gallery is not None  # what needs the solids themselves
    executor = None if here else executor_of(on, to_make - len(builds))
    with progress(to_make, quiet=json) as step:
        for build in builds:
            from parts.folders.build import make_build

            of_builds.append(
                make_build(
                    build, out, chord, math.radians(angle), wanted, step, packet, fresh, executor
                )
            )
            for sentence in of_builds[-1].failed:
                complain(sentence)
                failed = True
        made, said = _make_files(
            executor, read, (out, chord, math.radians(angle), wanted), packet, every, step
        )
        for sentence in said:
            complain(sentence)
            failed = True
        _write_index(out, of_builds)
    of_all = [*made, *(one for whole in of_builds for one in whole.made)]
    names = {str(w.build.file_of(n)): w.build.part(n) for w in of_builds for n in w.build.names}
    if gallery is not None and of_all:
        _draw(gallery, of_all)
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
        say_parts(made, read, json=False, every=every, proofs=proofs)
        for one in of_all:
            write_line(f"{name_of(one)}: {', '.join(str(file) for file in one.files)}")
            say_gone(one)
        for whole in of_builds:
            write(build_said(whole, every=every))
        if packet:
            _say_left_out(made, of_builds)
    short = status_of(made) or (OK if all(whole.ok for whole in of_builds) else SHORT)
    if not json:
        say_proofs(proofs)
    short, failed = max(short, SHORT * (worst == SHORT)), failed or worst == FAILED
    usual = (chord, angle, wanted) == (CHORD, ANGLE, []) and not any((on, packet, every, json))
    if usual and len(of_builds) == 1 and not (read or gallery or proved or failed):
        _note(files, out, of_builds[0])
    raise typer.Exit(FAILED if failed else short)


def _note(files: Files, out: Path, whole: "BuildMade") -> None:
    """Keep what a run says that finds nothing changed; see `straight.stands`."""
    from dataclasses import replace

    from parts.core.shop import PRINTER
    from parts.folders.records import table
    from parts.folders.standing import CHANGES, note

    own = out / whole.build.name
    again = replace(whole, made=(), changes=(), files=())
    said = build_said(again), build_said(replace(again, files=(own / CHANGES,)))
    read = (*whole.build.files, PRINTER)
    note((*map(str, files), str(out)), out, own, read, table(()), said, OK if whole.ok else SHORT)


def _make_files(
    executor: "Executor | None",
    read: "dict[str, Part]",
    how: tuple[Path, float, float, list[str]],
    packet: bool,
    every: bool,
    step: "Callable[[str], None]",
) -> tuple[list[Any], list[str]]:
    """Make parts of files, by an executor or here one after another, and what failed in words."""
    from parts.folders.part_files import make_part
    from parts.folders.side_by_side import ToMake, made_by
    from parts.folders.stated import stated
    from parts.inputs.document import read_document
    from parts.making.model import MakeError

    out, chord, angle, wanted = how
    written = {part.name: read_document(Path(file)) for file, part in read.items()}
    if executor is not None:
        orders = {
            name: ToMake(stated(one), one, out, chord, angle, tuple(wanted), every=every)
            for name, one in written.items()
        }
        found, failed = made_by(executor, orders, step)
        return list(found.values()), failed
    made, failed = [], []
    for part in read.values():
        step(part.name)
        try:
            made.append(make_part(part, out, chord, angle, wanted, written[part.name], packet))
        except MakeError as error:
            failed.append(str(error))
    return made, failed


def _say_left_out(made: list[Any], of_builds: list[Any]) -> None:
    """Which parts are in no packet of those who cut or weld, and which builds have none."""
    every = [*made, *(one for whole in of_builds for one in whole.every())]
    for one in (getattr(one, "result", one) for one in every):
        if not one.ok:
            shops = "saw, mill, lathe, waterjet and welder"
            write_line(f"{one.part.name} does not hold: it is in no packet for {shops}")
    for whole in of_builds:
        if whole.failed:
            write_line(f"{whole.build.name} has no packets: not every part could be made")


def _waiting(builds: "list[Build]", out: Path, options: tuple[object, ...], fresh: bool) -> int:
    """How many parts of builds have to be made; everything wrong in any of them is complained of here."""
    if not builds:
        return 0  # what makes them need not be loaded
    from parts.folders.build import stale

    return sum(len(stale(build, out, options, fresh)) + 1 for build in builds)


def _write_index(out: Path, builds: list[Any]) -> None:
    """The page of the whole folder: every part in it, those of builds first."""
    from parts.making.writing import write_whole
    from parts.report.page.index import PAGE, folder_page

    write_whole(out / PAGE, folder_page(out, [_together(one.build, out) for one in builds]))


def _together(build: "Build", out: Path) -> "Together":
    from parts.folders.build_files import counts_of
    from parts.report.page.index import Together

    return Together(build.name, build.entry.title, counts_of(build), _names_in(out / build.name))


def _names_in(folder: Path) -> list[str]:
    return sorted(
        file.name
        for file in folder.iterdir()
        if file.is_file() and file.suffix != ".json" and not file.name.startswith(".")
    )


def _draw(file: Path, made: list[Any]) -> None:
    """Draw what was made in one picture."""
    from parts.making.gallery import gallery
    from parts.making.writing import write_whole

    write_whole(file, gallery(made))
