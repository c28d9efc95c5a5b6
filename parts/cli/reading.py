"""What a command is given: files of parts and builds, families and purposes by name."""

from __future__ import annotations

from contextlib import suppress
from functools import partial
from os.path import realpath
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.inputs.problems import Problem
    from parts.vehicle.build import Build


def builds_and_parts(files: list[Path]) -> tuple[list[Build], list[Path]]:
    """The builds among files, and the files of parts that no build among them makes."""
    from parts.core.shop import PRINTER
    from parts.inputs.document import read_document
    from parts.inputs.problems import InputError
    from parts.inputs.reading import is_build, is_survey

    builds: list[Build] = []
    singles: list[Path] = []
    # As the disk knows them; links that lead in a circle are no fault here.
    theirs: set[str] = set()
    for file in files:
        if file.name == PRINTER.name and len(files) > 1:
            continue  # it lies beside the parts, and `params/*.yaml` names it with them
        if realpath(file) in theirs:
            continue  # its build reads it
        try:
            document = read_document(file)
            if is_survey(document) and len(files) > 1:
                continue  # it lies beside the build that takes its points
            found = is_build(document)
        except InputError:
            found = False  # it is read again with the parts, and complained of there
        if found:
            from parts.vehicle.file.loading import build_of

            build = build_of(file)
            builds.append(build)
            theirs |= {realpath(build.file_of(name)) for name in build.names}
        else:
            singles.append(file)
    return builds, [file for file in singles if realpath(file) not in theirs]


def read_all(files: list[Path]) -> dict[str, Part]:
    """The parts of every file, by their file; see `read_with_builds`."""
    return read_with_builds(files)[0]


def read_with_builds(files: list[Path]) -> tuple[dict[str, Part], list[Build]]:
    """Read every file, and complain of all of them at once before anything is made.

    Returns:
        The parts by their file, those of builds too, and the builds.
    """
    from parts import load
    from parts.inputs.problems import InputError

    parts: dict[str, Part] = {}
    names: dict[str, Path] = {}
    problems: list[Problem] = []
    builds, singles = builds_and_parts(files)
    for build in builds:
        with suppress(InputError):  # complained of with the parts
            _ = build.ends
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
                of_file(
                    file,
                    "same_name",
                    f"{twin} makes a part called {part.name!r} too",
                    "give each its own name",
                )
            )
        parts[str(file)] = part
    for build in builds:
        try:
            _ = build.rear, build.ends
        except InputError as error:
            problems += [problem for problem in error.problems if problem not in problems]
    if problems:
        raise InputError(problems)
    return parts, builds


def of_file(file: Path, code: str, wrong: str, right: str) -> Problem:
    from parts.inputs.problems import Problem

    return Problem(code, str(file), 0, 0, "", "", wrong, right)


def purposes_of(names: list[str]) -> list[str]:
    import typer

    from parts.making.purposes import PURPOSES

    for name in names:
        if name not in PURPOSES:
            known = "; ".join(f"{one} ({what})" for one, (_, what) in PURPOSES.items())
            raise typer.BadParameter(f"nothing is made for {name!r}. What can be made: {known}.")
    return list(dict.fromkeys(names))


def family_of(name: str) -> type[Part]:
    import difflib

    import typer

    from parts.families import OTHER_NAMES, families

    known = families()
    # A name without spaces needs no quotes: as in the names of the schemas.
    plain = {_without_spaces(one): one for one in (*known, *OTHER_NAMES)}
    if _without_spaces(name) not in plain:
        near = difflib.get_close_matches(_without_spaces(name), plain, n=1, cutoff=0.4)
        hint = f"; did you mean {near[0]!r}?" if near else "."
        raise typer.BadParameter(f"no family {name!r}{hint} Families: {', '.join(plain)}.")
    return known[plain[_without_spaces(name)]]


def _without_spaces(name: str) -> str:
    return "-".join(name.casefold().replace("-", " ").split())
