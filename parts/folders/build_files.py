"""The files of a build as a whole: assembly, bill, stock, and the data of its page."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from parts.folders.build_data import build_page_data
from parts.folders.records import Change, Record
from parts.making.kept import Kept
from parts.making.stock import csv_bytes as orders_csv
from parts.making.stock import orders
from parts.making.writing import harmless
from parts.report.bill import csv_bytes, merged
from parts.running.versions import library
from parts.vehicle.build import Build
from parts.vehicle.space.access import cannot_be_put_together
from parts.vehicle.space.assembly import Weight, assembly, pieces, weights
from parts.vehicle.space.fit import out_of_place
from parts.vehicle.space.interference import clashes, positions

if TYPE_CHECKING:
    from parts.core.part import Bought, Part, Piece
    from parts.vehicle.build import Build


DATA = "build.json"
"""The data of the page, for other programs."""


def digest_of(build: Build, records: Mapping[str, Record]) -> str:
    """Digest of all that the files of the whole come from."""
    inputs = json.dumps(
        [build.document.data, {n: r.inputs for n, r in records.items()}], sort_keys=True
    )
    return hashlib.sha256(f"{library()}\n{inputs}".encode()).hexdigest()


def counts_of(build: Build) -> dict[str, int]:
    """How many of each part there are."""
    return {name: 2 if one.sides == "both" else 1 for name, one in build.entries.items()}


def build_files(
    build: Build,
    records: Mapping[str, Record],
    moved: Sequence[Change] = (),
    kept: Kept | None = None,
) -> dict[str, bytes]:
    """The files of the build, by name.

    Args:
        build: the build.
        records: of every part.
        moved: what moved against the run before.
        kept: solids and what was worked out of them before.

    Returns:
        Assembly, bill of bought-in parts, made parts with their masses, stock, the page and its data.
    """
    from parts.making.step import step_bytes
    from parts.report.build_scene import space_of
    from parts.report.page.build import PAGE, build_page

    parts = {name: build.part(name) for name in build.names}
    counts = counts_of(build)
    kept = kept or Kept()
    solids = {name: kept.pieces(part, records[name].inputs) for name, part in parts.items()}
    standing = assembly(build, parts, solids)
    where = list(positions(build))
    drawn = where[0].frames
    struck = clashes(build, standing, where, kept)
    stuck = cannot_be_put_together(standing, drawn, kept)
    heavy = weights(standing, drawn, kept)
    stock = orders(parts, counts, _told(solids, records), kept)
    hardware = bought(build, parts)
    data = build_page_data(build, parts, records, struck, stuck, heavy, stock, hardware, moved)
    files = {
        "bought.csv": csv_bytes(hardware),
        "made.csv": made_csv(parts, counts, records, heavy),
        "stock.csv": orders_csv(stock),
        FINDINGS: _report(
            [*map(str, struck), *stuck, *out_of_place(build, parts), *unbalanced(build)]
        ),
        DATA: (json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode(),
    }
    if standing:
        files = {f"{build.name}.step": step_bytes(build.name, pieces(standing, drawn)), **files}
    shown = [name for name in files if name != DATA] + ([CHANGES] if moved else [])
    space = space_of(build, standing, drawn, kept) if standing else None
    return {PAGE: build_page(data, space, shown), **files}


def _told(
    solids: Mapping[str, Sequence[tuple[Piece, str]]], records: Mapping[str, Record]
) -> dict[str, list[tuple[Piece, str]]]:
    """Pieces with what their stock hangs on: more than the solid alone, as blanks and allowances."""
    return {
        name: [(piece, f"{digest} {records[name].inputs}") for piece, digest in own]
        for name, own in solids.items()
    }


def bought(build: Build, parts: Mapping[str, Part]) -> tuple[Bought, ...]:
    """The bill of bought-in parts of a build, what two parts share once.

    Args:
        build: the build.
        parts: its parts by name.

    Returns:
        The lines.
    """
    counts = counts_of(build)
    return merged(
        replace(one, quantity=one.quantity * counts[name], fits=f"{name}: {one.fits}")
        for name, part in parts.items()
        for one in part.bought()
        if not _with_another(one.fits, build.entries[name].bought_with_another)
    )


def _with_another(fits: str, others: Sequence[str]) -> bool:
    """Whether another part's bill holds it: what fits `the throat` or stands beside it, as its spacers do."""
    return any(fits == one or fits.startswith(f"{one}, ") for one in others)


def made_csv(
    parts: Mapping[str, Part],
    counts: Mapping[str, int],
    records: Mapping[str, Record],
    heavy: tuple[Weight, ...],
) -> bytes:
    """The made parts: how many, mass of one and of all, and the centre of mass of those that have a place."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(("part", "title", "material", "quantity", "mass_kg", "mass_of_all_kg"))
    total = 0.0
    for name, part in parts.items():
        mass = records[name].mass or 0.0
        total += mass * counts[name]
        words = (name, part.title, part.metal.name)
        writer.writerow([*map(harmless, words), counts[name], mass, round(mass * counts[name], 9)])
    writer.writerow(("all made parts", "", "", sum(counts.values()), "", round(total, 6)))
    centre = centre_of(heavy)
    if centre is not None:
        said = "centre of mass of the placed ones: " + ", ".join(
            f"{axis} {value:.1f} mm" for axis, value in zip("xyz", centre, strict=True)
        )
        writer.writerow((said, "", "", "", "", ""))
    return stream.getvalue().encode()


def centre_of(heavy: tuple[Weight, ...]) -> Any:
    """Centre of mass of several [mm]; None of none."""
    mass = sum(one.mass for one in heavy)
    return sum(one.mass * one.centre for one in heavy) / mass if heavy else None


def unbalanced(build: Build) -> list[str]:
    """Sentences on the bodies whose forces do not balance; there is none unless this library is at fault."""
    return [
        f"{case.name}: {one.error}" for case in build.cases for one in case.balances if one.error
    ]


def _report(sentences: list[str]) -> bytes:
    lines = sentences or [
        "Nothing was found that strikes, comes too near, lies off its place, is out of balance or cannot be "
        "put together."
    ]
    lines += [
        "",
        "Bought-in hardware counts as plain cylinders; frame, engine and wheels are not modelled.",
    ]
    return ("\n".join(lines) + "\n").encode()


__all__ = ["build_files", "centre_of", "counts_of", "digest_of"]


FINDINGS = "findings.txt"


CHANGES = "changes.txt"
