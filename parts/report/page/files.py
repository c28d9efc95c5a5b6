"""To whom each file of a part goes, and what for."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import quote

from parts.report.page.html import Html, tag

SHOPS = {
    "saw": "saw",
    "mill": "CNC shop",
    "lathe": "lathe",
    "waterjet": "water or laser cutter",
    "printer": "3D printer",
    "welder": "welder",
    "bench": "bench",
}
"""Who a packet is for, by the name of its shop."""
PACKETS = tuple(
    (f"-{shop}-packet.{ending}", who, what)
    for shop, who in SHOPS.items()
    for ending, what in (
        ("pdf", "all that is needed, as pages"),
        ("zip", "the files that go with the pages"),
    )
)
WHO = (
    *PACKETS,
    ("-drawing.pdf", "machinist, welder", "the drawing, on paper"),
    ("-drawing.svg", "yourself", "the same drawing for the screen"),
    (
        "-drawing.dxf",
        "machinist, welder",
        "the same drawing at full size, for a drawing program",
    ),
    ("-inspection.pdf", "bench", "what to measure, with limits and room to write"),
    ("-inspection.csv", "bench", "the inspection sheet as a table to fill in"),
    ("-profiles.csv", "manual mill", "ends, centres and radii of outlines from the datum"),
    ("-process.pdf", "machinist", "set-ups: zero, tools, depths, speeds, room to write"),
    ("-process.csv", "machinist", "the same as a table for the digital readout"),
    ("-templates.pdf", "welder", "templates to wrap round tube ends; print at full size"),
    ("-flat.dxf", "water or laser cutter", "the flat blank, one to one in mm"),
    ("-unrolled.dxf", "tube laser", "the ends of the tube unrolled, one to one in mm"),
    (".dxf", "water or laser cutter", "blanks nested on the sheet, one to one in mm"),
    ("flat.txt", "water or laser cutter", "what to know of the blanks"),
    (".step", "CNC shop", "the exact solid, in mm"),
    ("-print.3mf", "3D printer", "fit-up print, never ridden"),
    (".stl", "3D printer", "for fit-up only, never ridden; in mm"),
    (".3mf", "3D printer", "for fit-up only, never ridden"),
    ("print.txt", "3D printer", "how to print it, and what was enlarged"),
    ("bought.csv", "supplier", "hardware to buy"),
    ("proof.txt", "reviewer", "finite elements beside the hand calculation"),
    ("proof.json", "other programs", "the same for a program"),
    ("report.txt", "reviewer", "the stress check in short"),
    ("report.json", "other programs", "the same for a program"),
    (".png", "anyone", "a picture"),
)
"""By the end of a file's name: to whom, what for. The first that fits counts."""
OF_THE_WHOLE = (
    *PACKETS,
    ("index.html", "yourself", "the page of the build: 3D, loads, rear end, findings, bills"),
    (".step", "yourself", "all parts at their places, with their hardware"),
    ("bought.csv", "hardware supplier", "hardware to buy for all of it"),
    ("stock.csv", "metal supplier", "stock to buy, and what is cut from it"),
    ("made.csv", "yourself", "made parts with their masses"),
    ("findings.txt", "yourself", "what strikes, or cannot be put together"),
    ("changes.txt", "yourself", "what moved against the run before"),
)
"""The same of the files of a build as a whole."""
NO_SHOP = frozenset({"yourself", "anyone", "other programs"})
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


def cards(names: Iterable[str], who_gets: Addresses = WHO) -> Html | None:
    """A card for each shop that gets a file: the file that it works from, what that is, and how many more go with it.

    Args:
        names: names of files.
        who_gets: by the end of a file's name, to whom and what for.

    Returns:
        Links to the files; None where none goes to a shop.
    """
    shops: dict[str, list[tuple[str, str]]] = {}
    for name, who, what in addressed(names, who_gets):
        if who not in NO_SHOP:
            shops.setdefault(who, []).append((name, what))
    every = [
        tag("li", tag(
            "a", tag("b", who[:1].upper() + who[1:]), tag("span", name, class_="code"),
            tag("span", what), tag("span", f"and {len(more)} more below", class_="more") if more else None,
            href=quote(name),
        ))
        for who, ((name, what), *more) in shops.items()
    ]  # fmt: skip
    return tag("ul", *every, class_="cards") if every else None
