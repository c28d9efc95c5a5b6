"""What `make` and `sweep` do beside making parts: the index of the folder, the gallery, the chosen rows."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.cli.saying import complain, progress, write_line
from parts.cli.telling import FAILED, status_of

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.vehicle.build import Build


def waiting(builds: list[Build], out: Path, options: tuple[object, ...]) -> int:
    """How many parts of builds have to be made; everything wrong in any of them is complained of here."""
    from parts.folders.build import stale

    return sum(len(stale(build, out, options)) + 1 for build in builds)


def write_index(out: Path, builds: list[Any]) -> None:
    """The page of the whole folder: every part in it, those of builds first."""
    from parts.folders.build_files import counts_of
    from parts.making.writing import write_whole
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


def draw(file: Path, made: list[Any]) -> None:
    """Draw what was made in one picture."""
    from parts.making.gallery import gallery
    from parts.making.writing import write_whole

    write_whole(file, gallery(made))


def made_rows(chosen: list[Part], folder: Path) -> int:
    """Make the rows chosen from a sweep, each in a folder of its own."""
    from parts.folders.part_files import make_part
    from parts.making.model import MakeError

    made = []
    with progress(len(chosen), quiet=False) as step:
        for part in chosen:
            step(part.name)
            try:
                made.append(make_part(part, folder))
            except MakeError as error:
                complain(str(error))
    for one in made:
        governing = one.result.governing
        said = (
            f"{governing.name}, factor {float(governing.factor):.4g}"
            if governing
            else "no load case"
        )
        write_line(
            f"{one.result.part.name}: {one.mass:.3f} kg, {said}: {', '.join(str(f) for f in one.files)}"
        )
    return status_of(made) if len(made) == len(chosen) else FAILED
