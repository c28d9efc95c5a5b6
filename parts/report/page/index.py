"""The page of a folder of outputs: every part with its picture, mass and governing check, build by build."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from os.path import isfile
from pathlib import Path
from typing import Any
from urllib.parse import quote

from parts.core.cautions import CAUTIONS
from parts.core.figures import figure
from parts.making.read_back import content, data, names_in
from parts.report.page.document import document
from parts.report.page.files import OF_THE_WHOLE, addressed
from parts.report.page.frame import Fold, counted, folded, framed, listed
from parts.report.page.html import Html, data_uri, joined, table, tag
from parts.report.page.sheets import verdict

PAGE = "index.html"
REPORT = "report.json"
PICTURE = "picture.png"
MOST_OF_A_REPORT, MOST_OF_A_PICTURE = 16_000_000, 4_000_000
"""Largest report and picture that are read back [bytes]."""


@dataclass(frozen=True)
class Listed:
    """A part as its folder has it: its entry in the report, None where that cannot be read, and its picture."""

    name: str
    entry: Mapping[str, Any] | None
    picture: bytes | None
    has_page: bool


@dataclass(frozen=True)
class Together:
    """Parts that belong together.

    Attributes:
        name: of the build; it names the folder of the files of the whole.
        title: of the build.
        counts: how many there are of each part, by its name, in the order in which they are listed.
        files: names of the files of the whole.
    """

    name: str
    title: str
    counts: Mapping[str, int]
    files: Sequence[str] = field(default_factory=tuple)


def folder_page(folder: Path, builds: Sequence[Together] = ()) -> bytes:
    """Lay out the page of a folder of outputs.

    Args:
        folder: the folder, a folder in it for each part.
        builds: which parts belong together; what else is in the folder is listed after them.

    Returns:
        One HTML file that fetches nothing.

    Raises:
        OSError: the disk refused.
    """
    found = {one.name: one for one in _listed(folder)}
    sections = [_build(one, found) for one in builds]
    theirs = {name for one in builds for name in one.counts}
    others = {name: 1 for name in found if name not in theirs}
    if others:
        head = "Other parts in this folder" if builds else "Parts in this folder"
        sections.append(_section("parts", head, _table(others, found, head)))
    title = builds[0].title or builds[0].name if builds else "Parts"
    cautions = Fold("cautions", "Cautions", CAUTIONS[0], listed(CAUTIONS))
    head = [tag("h1", title), _verdict(found)]
    return document(title, framed(head, joined(*sections), [cautions]), scripts=("page.js",))


def _verdict(found: Mapping[str, Listed]) -> Html | None:
    """In one line: whether every part holds that was made and read back."""
    told = {name: one.entry["ok"] for name, one in found.items() if one.entry}
    if not told:
        return None
    short = [name for name, ok in told.items() if not ok]
    held = f": every check of every part that was made, {len(told)} of them."
    held += "".join(
        f" {name} once {one.entry['once']}."
        for name, one in found.items()
        if one.entry and one.entry.get("once")
    )
    said = [verdict(not short), f": {', '.join(short)}." if short else held]
    return tag("div", tag("p", *said), class_=f"verdict {'short' if short else 'holds'}")


def _listed(folder: Path) -> Iterator[Listed]:
    for name in names_in(folder):
        own = folder / name
        # What another program left there may be anything; a name that is no text cannot be shown.
        if name.startswith(".") or not name.isprintable() or not isfile(own / REPORT):
            continue
        picture = content(own / PICTURE, MOST_OF_A_PICTURE)
        yield Listed(name, _entry(own / REPORT), picture, isfile(own / PAGE))


def _entry(report: Path) -> Mapping[str, Any] | None:
    """The entry of the one part of a report; None where it is no report of ours."""
    found = data(report, MOST_OF_A_REPORT)
    try:
        (entry,) = found["parts"]
        governing = entry["governing"]
        told = [entry["title"], entry["family"], entry["material"]]
        numbers = [entry["mass_kg"]]
        if governing is not None:
            told += [governing["name"], governing["load_case"]]
            numbers += [governing["factor"], governing["required"]]
    except (ValueError, KeyError, TypeError):
        return None
    sound = (
        all(isinstance(one, str) and one.isprintable() for one in told)
        and all(one is None or _is_number(one) for one in numbers)
        and isinstance(entry["ok"], bool)
    )
    return entry if sound else None


def _is_number(one: Any) -> bool:
    return type(one) in (int, float) and abs(one) < 1e15


def _section(name: str, head: str, *inner: Any) -> Html:
    return tag(
        "section",
        tag("h2", head, id=f"{name}-head".replace(" ", "-")),
        *inner,
        aria_labelledby=f"{name}-head".replace(" ", "-"),
    )


def _build(one: Together, found: Mapping[str, Listed]) -> Html:
    rows = [
        [tag("a", name, href=quote(f"{one.name}/{name}")), who, what]
        for name, who, what in addressed(one.files, OF_THE_WHOLE)
    ]
    whole = tag("a", f"The page of {one.name}", href=quote(f"{one.name}/{PAGE}"))
    more = ": 3D, loads, rear end, findings and bills of the whole."
    name = f"files-{one.name}".replace(" ", "-")
    listing = table("Files of the whole", ["file", "goes to", "what it is"], rows) if rows else None
    return _section(
        f"build-{one.name}",
        f"Parts of {one.name}",
        tag("p", whole, more) if PAGE in one.files else None,
        _table(one.counts, found, f"Parts of {one.name}"),
        _summed(one.counts, found),
        folded(Fold(name, "Files of the whole", counted(len(rows), "file"), listing))
        if rows
        else None,
    )


def _summed(counts: Mapping[str, int], found: Mapping[str, Listed]) -> Html:
    masses = [
        many * float(entry["mass_kg"])
        for name, many in counts.items()
        if name in found and (entry := found[name].entry) and entry["mass_kg"] is not None
    ]
    short = [n for n in counts if n in found and (e := found[n].entry) and not e["ok"]]
    said = f"{sum(counts.values())} made parts, {sum(masses):.3f} kg together. "
    said += (
        f"Short: {', '.join(short)}." if short else "Every check of every part that was made holds."
    )
    return tag("p", said)


def _table(counts: Mapping[str, int], found: Mapping[str, Listed], caption: str) -> Html:
    head = ["part", "picture", "what it is", "material", "number", "kg each"]
    head += ["governed by", "factor", "required", "verdict"]
    rows = [_row(name, many, found.get(name)) for name, many in counts.items()]
    return table(caption, head, rows, numbers=(4, 5, 7, 8))


def _row(name: str, many: int, one: Listed | None) -> list[Any]:
    if one is None or one.entry is None:
        wrong = "not made yet" if one is None else "its report cannot be read; make it again"
        return [name, "", wrong, "", many, "", "", "", "", ""]
    entry = one.entry
    governing = entry["governing"]
    picture = (
        tag("img", src=data_uri("image/png", one.picture), alt=f"{name}, shaded picture")
        if one.picture
        else "none"
    )
    what = ", ".join(filter(None, [entry["title"], entry["family"]]))
    mass = "" if entry["mass_kg"] is None else f"{float(entry['mass_kg']):.3f}"
    by: list[Any] = ["no load cases", "", "", "not checked"]
    if governing is not None:
        case = f" under {governing['load_case']}" if governing["load_case"] else ""
        by = [
            f"{governing['name']}{case}",
            _number(governing["factor"]),
            _number(governing["required"]),
        ]
        by.append(verdict(entry["ok"]))
    link = tag("a", name, href=quote(f"{name}/{PAGE}")) if one.has_page else name
    return [link, picture, what, entry["material"], many, mass, *by]


def _number(value: Any) -> str:
    return "unbounded" if value is None else figure(value)
