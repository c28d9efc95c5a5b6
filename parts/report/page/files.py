"""To whom each file of a part goes, and what for."""

from __future__ import annotations

from collections.abc import Iterable

WHO = (
    ("-drawing.pdf", "machinist, welder", "the shop drawing, on paper"),
    ("-drawing.svg", "yourself", "the same drawing for the screen"),
    ("-drawing.dxf", "machinist", "the same drawing at full size, for his drawing program"),
    (
        "-inspection.pdf",
        "bench",
        "every dimension with its limits, what to measure it with, room to write",
    ),
    ("-inspection.csv", "bench", "the inspection sheet as a table to fill in"),
    ("-profiles.csv", "manual mill", "ends, centres and radii of outlines from the datum"),
    ("-holes.pdf", "manual mill", "hole chart: coordinates for the digital readout"),
    ("-holes.csv", "manual mill", "the hole chart as a table"),
    ("-templates.pdf", "welder", "templates to wrap round tube ends; print at full size"),
    ("-flat.dxf", "water or laser cutter", "the flat blank, one to one in mm"),
    (".dxf", "water or laser cutter", "blanks nested on the sheet, one to one in mm"),
    ("flat.txt", "water or laser cutter", "what to know of the blanks"),
    (".step", "CNC shop", "the exact solid in mm; with the drawing, if there is one"),
    (".stl", "3D printer", "for fit-up only, never ridden; in mm"),
    (".3mf", "3D printer", "for fit-up only, never ridden"),
    ("bought.csv", "supplier", "hardware to buy"),
    ("proof.txt", "reviewer", "finite elements beside the hand calculation"),
    ("proof.json", "other programs", "the same for a program"),
    ("report.txt", "reviewer", "the stress check in short; for the file"),
    ("report.json", "other programs", "the same for a program"),
    (".png", "anyone", "a picture"),
)
"""By the end of a file's name: to whom, what for. The first that fits counts."""
OF_THE_WHOLE = (
    ("index.html", "yourself", "the page of the build: 3D, loads, rear end, findings, bills"),
    (".step", "yourself", "all parts at their places, with their hardware"),
    ("bought.csv", "supplier", "hardware to buy for all of it"),
    ("stock.csv", "supplier", "stock to buy"),
    ("made.csv", "yourself", "made parts with their masses"),
    ("findings.txt", "yourself", "what strikes, or cannot be put together"),
    ("changes.txt", "yourself", "what moved against the run before"),
)
"""The same of the files of a build as a whole."""
Addresses = tuple[tuple[str, str, str], ...]


def addressed(names: Iterable[str], who_gets: Addresses = WHO) -> list[tuple[str, str, str]]:
    """Each file with whom it goes to and what for, in the order of the addressees.

    Args:
        names: names of files.
        who_gets: by the end of a file's name, to whom and what for.

    Returns:
        Name, addressee, purpose; those of no known kind last, for yourself.
    """
    found = []
    for name in names:
        place, who, what = next(
            ((i, who, what) for i, (end, who, what) in enumerate(who_gets) if name.endswith(end)),
            (len(who_gets), "yourself", ""),
        )
        found.append((place, name, who, what))
    return [(name, who, what) for _, name, who, what in sorted(found)]
