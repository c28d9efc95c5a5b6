"""A packet for each shop: one PDF and one zip, of all that the parts' files hold for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from parts.core.cautions import CAUTIONS
from parts.core.part import Bought
from parts.making.bench.paper import SIZES
from parts.making.packet.lists import (
    CUT_HEAD,
    UNSAID,
    bars,
    bill,
    cut_csv,
    cut_rows,
    off,
    steps,
    torques,
    weld_blocks,
)
from parts.making.packet.pages import Block, Heading, Table, document, joined, pages, text_pages
from parts.making.packet.shops import CUTTING, SHOPS, Packed
from parts.making.shortfall import shortfall
from parts.making.stock import Order, csv_bytes, orders
from parts.making.writing import zipped

PACKET = "packet"
"""How the names of packets end."""
WORK: Mapping[str, str] = MappingProxyType(
    {
        "saw": "what is cut off from bar, tube and plate, with the ends of tubes",
        "mill": "what is milled: drawings, sheets, and STEP files with callouts",
        "lathe": "what is turned: drawings, sheets, and STEP files with callouts",
        "waterjet": "flat blanks as DXF at full size in mm, and how they lie on a sheet",
        "printer": "prints that prove the fit, as STL and 3MF in mm; for fit-up only, never ridden",
        "welder": "what is welded, how, and of what",
        "bench": "what is bought in, how tight it is pulled, and the order in which it goes together",
    }
)


@dataclass(frozen=True)
class Whole:
    """What packets are of.

    Attributes:
        name: of the build or the part; the files are named by it.
        title: of it.
        parts: the parts.
        bill: what is bought in for all of it.
        order: names of parts in the order in which they go together, each with where it goes.
        found: what strikes or cannot be put together, in lines; empty where nothing was looked for.
    """

    name: str
    title: str
    parts: Sequence[Packed]
    bill: Sequence[Bought]
    order: Sequence[tuple[str, str]]
    found: str = ""


def packets(whole: Whole) -> dict[str, bytes]:
    """The packets of all shops that have work on it.

    Args:
        whole: the parts with their files.

    Returns:
        Bytes by file name, `<name>-<shop>-packet.pdf` and `.zip`. A part that falls short is in none of a shop
        that cuts or welds.
    """
    found: dict[str, bytes] = {}
    of_stock = orders(
        {one.part.name: one.part for one in whole.parts if one.result.ok},
        {one.part.name: one.count for one in whole.parts},
    )
    for shop in SHOPS:
        here = [one for one in whole.parts if one.goes_to(shop)]
        if here:
            found |= _packet(whole, shop, here, of_stock)
    return found


def left_out(whole: Whole) -> list[str]:
    """A sentence on each part that falls short, and which shops do not get it."""
    return [
        f"{one.part.name} {shortfall(one.result)} It is left out of the packets for "
        f"{', '.join(shop for shop in SHOPS if shop in CUTTING and one.needs(shop))}."
        for one in whole.parts
        if not one.result.ok
    ]


def _packet(
    whole: Whole, shop: str, here: Sequence[Packed], of_stock: Sequence[Order]
) -> Iterator[tuple[str, bytes]]:
    base = f"{whole.name}-{shop}"
    named_as = f"{base}-{PACKET}"
    size = _page(here)
    blocks, lists = _lists(whole, shop, here, of_stock)
    cover = [*pages(f"{whole.name}: for the {shop}", [*_cover(whole, shop, here), *blocks], size)]
    sheets, rest = [("what is here", document(base, cover))], dict(lists)
    for one in here:
        for name, content in one.of(shop).items():
            named = name if name.startswith(one.part.name) else f"{one.part.name}-{name}"
            if name.endswith(".pdf"):
                sheets.append((named, content))
                continue
            rest[named] = content
            if name.endswith(".txt"):
                sheets.append((named, document(named, text_pages(named, content.decode(), size))))
    yield f"{named_as}.pdf", joined(sheets, base)
    yield f"{named_as}.zip", zipped(rest)


def _page(here: Sequence[Packed]) -> tuple[float, float]:
    """A standing page: letter for those who draw on American sheets."""
    american = any(one.part.drawing.sheet in ("letter", "tabloid") for one in here)
    short, long = sorted(SIZES["letter" if american else "A4"])
    return short, long


def _cover(whole: Whole, shop: str, here: Sequence[Packed]) -> Iterator[Block]:
    yield f"{whole.title}. " * bool(whole.title) + f"In this packet: {WORK[shop]}."
    rows = tuple(
        (
            one.part.name,
            one.part.revision,
            one.part.title,
            one.part.metal.name,
            off(one),
            _verdict(one),
        )
        for one in here
    )
    yield Table(
        ("part", "revision", "what it is", "metal", "off", "checks"), rows, (3, 2, 5, 5, 3, 3)
    )
    yield from (said for said in left_out(whole) if said.split(" ", 1)[0] in _missing(whole, shop))
    if shop not in CUTTING:
        yield from (f"{one.part.name} {shortfall(one.result)}" for one in here if not one.result.ok)
    yield Heading("Cautions")
    yield from (f"- {said}" for said in CAUTIONS)


def _missing(whole: Whole, shop: str) -> set[str]:
    return {one.part.name for one in whole.parts if one.needs(shop) and not one.goes_to(shop)}


def _verdict(one: Packed) -> str:
    if not one.result.checks:
        return "not checked: no load case"
    return "hold" if one.result.ok else "DO NOT HOLD"


def _lists(
    whole: Whole, shop: str, here: Sequence[Packed], of_stock: Sequence[Order]
) -> tuple[list[Block], dict[str, bytes]]:
    """What a shop's packet lists before the sheets, and the same as files."""
    if shop == "welder":
        return list(weld_blocks(here)), {}
    if shop == "bench":
        return _for_the_bench(whole, here), {}
    mine = [
        one
        for one in of_stock
        for packed in here
        if packed.part.name == one.part and shop in packed.shops[one.piece.split(", ")[0]]
    ]
    if shop == "printer" or not mine:
        return [], {}
    stock = {f"{whole.name}-stock.csv": csv_bytes(mine)}
    rows = cut_rows(here, mine)
    if shop == "saw":
        listed = Table(CUT_HEAD, tuple(rows), (1, 3, 3, 1, 5, 5, 2.5, 2.5, 4, 3))
        blocks = [Heading("Cut list"), listed, Heading("Stock to buy"), bars(mine)]
        return blocks, {**stock, f"{whole.name}-cut-list.csv": cut_csv(rows)}
    told = tuple((*row[1:6], row[9]) for row in rows)
    return [
        Heading("Pieces, and what they are made from"),
        Table((*CUT_HEAD[1:6], "note"), told, (3, 3, 1, 5, 5, 3)),
    ], stock


def _for_the_bench(whole: Whole, here: Sequence[Packed]) -> list[Block]:
    named = {one.part.name: one for one in here}
    tight = torques(here)
    blocks: list[Block] = [Heading("Bought in"), bill(whole.bill)] if whole.bill else []
    if tight.rows:
        blocks += [Heading("Torques, dry, by common practice"), tight, UNSAID]
    blocks += [Heading("Order of assembly"), *steps(named, whole.order)]
    if whole.found:
        blocks += [Heading("What was found in the whole"), *whole.found.splitlines()]
    return blocks
