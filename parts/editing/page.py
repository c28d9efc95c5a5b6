"""The page on which a part is changed with the hand: its frame, which the scripts beside it fill."""

from __future__ import annotations

from urllib.parse import quote

from parts.editing.shelf import Shelf
from parts.families import families
from parts.making.purposes import PURPOSES
from parts.report.page.document import document
from parts.report.page.html import Html, joined, tag
from parts.report.starter import next_number

HERE = "parts.editing"
SCRIPTS = tuple(
    f"{HERE}:{one}.js"
    for one in ("wire", "sizes", "checks", "plan", "key", "moved", "made", "file")
)
STYLE = f"{HERE}:hand.css"
PACKET = "all of these, gathered for each shop in one PDF and one ZIP"
GRIDS = ("0.5 mm", "1 mm", "2 mm", "5 mm", "10 mm", "1/16 in", "1/8 in", "1/4 in", "1/2 in")


def page(name: str, token: str) -> bytes:
    """The page of an opened file.

    Args:
        name: of the file.
        token: that goes with every change.

    Returns:
        One HTML file; it speaks with its server alone.
    """
    inner = joined(
        tag("a", "To the sizes", href="#sizes", class_="skip"),
        tag("div", "", id="hand", data_token=token, hidden=True),
        _head(name),
        tag(
            "main",
            _plan(),
            _checks(),
            _sizes(),
            _moved(),
            _solid(),
            _key(),
            _measured(),
            class_="table",
        ),
    )
    return document(
        f"{name} in hand", inner, scripts=("viewer.js", *SCRIPTS), styles=(STYLE,), served=True
    )


def shelf_page(shelf: Shelf, token: str) -> bytes:
    """The page of a folder: its parts, and the families that a new one is begun from.

    Args:
        shelf: the folder.
        token: that goes with every change.

    Returns:
        One HTML file.
    """
    folder = shelf.folder.name
    rows = [
        tag(
            "li",
            tag(
                "a",
                tag("b", one.title),
                tag("span", f"{one.family or 'build'}, {one.name}"),
                href=f"file/{quote(one.name)}/",
            ),
        )
        for one in shelf.filed()
    ]
    begun = [
        tag("li", tag("button", tag("img", data_src=f"family/{quote(name)}", alt="", width=240, height=160),
            tag("b", name), tag("span", family.summary), type="button", data_family=name))
        for name, family in families().items()
    ]  # fmt: skip
    number = next_number(shelf.folder) or "HC-101"
    lying = tag("ul", *rows, class_="shelf") if rows else tag("p", "No part yet.")
    inner = joined(
        tag("div", "", id="hand", data_token=token, hidden=True),
        tag("header", tag("h1", f"Parts in {folder}"), tag("div", "", id="wrong", role="alert")),
        tag("main",
            tag("section", tag("h2", "Lie here"), lying),
            tag("section", tag("h2", "Begin a part"),
                tag("p", tag("label", "part number ", tag("input", id="number", type="text", value=number))),
                tag("ul", *begun, class_="shelf begun"))),
    )  # fmt: skip
    return document(
        f"Parts in {folder}", inner, scripts=(f"{HERE}:shelf.js",), styles=(STYLE,), served=True
    )


def _head(name: str) -> Html:
    buttons = (
        tag("button", "Take back", id="undo", type="button", disabled=True, title="Ctrl+Z"),
        tag("button", "Do again", id="redo", type="button", disabled=True, title="Ctrl+Shift+Z"),
        tag("button", "Write the file", id="save", type="button", disabled=True, title="Ctrl+S"),
        tag(
            "button",
            "Make it",
            id="make",
            type="button",
            aria_expanded="false",
            aria_controls="purposes",
        ),
    )
    purposes = [
        tag("label", tag("input", type="checkbox", name=one, checked=True), f"{one}: {what}")
        for one, what in (*((one, what) for one, (_, what) in PURPOSES.items()), ("packet", PACKET))
    ]
    return tag(
        "header",
        tag("h1", tag("a", name, href="../../", id="title")), tag("p", "", id="what", class_="what"),
        tag("nav", *buttons, aria_label="File"),
        tag("p", "Being read.", id="verdict", role="status"),
        tag("div", "", id="wrong", role="alert"),
        tag("div", "", id="disk", role="alert", hidden=True),
        tag("form", *purposes, tag("button", "Make these", type="submit"), id="purposes", hidden=True),
        tag("div", tag("pre", "", id="lines", tabindex="0"), tag("ul", "", id="files"), id="made", hidden=True),
    )  # fmt: skip


def _plan() -> Html:
    grids = [tag("option", one, selected=one == "1 mm") for one in GRIDS]
    return tag(
        "section",
        tag("h2", "Plan"),
        tag("div", tag("label", "seen ", tag("select", id="side"), id="sides", hidden=True),
            tag("label", "grid ", tag("select", *grids, id="grid")), tag("output", "", id="at"), class_="row"),
        tag("div", "", id="more-places", class_="row"),
        tag("svg", "", id="plan", role="group", aria_label="Plan of the plate and the places on it"),
        tag("p", "Drag a place, or stand on it and press the arrow keys: a grid step each, a tenth with Shift.",
            class_="what"),
        id="plan-box", hidden=True, aria_label="Plan",
    )  # fmt: skip


def _checks() -> Html:
    return tag(
        "section", tag("h2", "Does it hold?"), tag("div", "", id="mended", aria_live="polite"),
        tag("ol", "", id="checks"),
        tag("details", tag("summary", ""), tag("ol", "", id="short"), id="shorter", hidden=True),
        tag("p", "", id="more", class_="what"), id="checks-box", aria_label="Checks",
    )  # fmt: skip


def _sizes() -> Html:
    return tag(
        "section", tag("h2", "Sizes"),
        tag("div", tag("label", "look for ", tag("input", id="look", type="search", size="14")),
            tag("label", tag("input", id="all", type="checkbox"), " also what the file leaves out"), class_="row"),
        tag("div", "", id="sizes"), id="sizes-box", aria_label="Sizes",
    )  # fmt: skip


def _key() -> Html:
    said = "A touch on a name leads to its size."
    return tag(
        "section", tag("h2", "Key to the sizes"),
        tag("p", "Being drawn; large plates take a while.", id="key-said", class_="what"),
        tag("figure", "", id="key", class_="keyed"), tag("p", said, class_="what"),
        id="key-box", aria_label="Key to the sizes",
    )  # fmt: skip


def _measured() -> Html:
    said = (
        "Type what was measured, in mm or with a unit; numbers are those of the inspection sheet. The record is "
        "written into the folder made beside the file."
    )

    def asked(name: str, label: str, value: str = "") -> Html:
        return tag("label", f"{label} ", tag("input", type="text", name=name, value=value))

    return tag(
        "section", tag("h2", "As made"),
        tag("details", tag("summary", "Measure a finished piece"), tag("p", said, class_="what"),
            tag("form", tag("div", "", id="kept-pieces", class_="row", hidden=True), tag("div", "", id="measured-rows"),
                tag("div", asked("piece", "piece", "1"), asked("who", "made by"), asked("when", "day, as 2026-11-14"),
                    asked("tools", "with, by commas"), asked("within", "readings may be off by", "0.05 mm"),
                    class_="row"),
                tag("div", asked("of", "piece", "all"), asked("what", "metal"), asked("heat", "heat"),
                    asked("certificate", "certificate"),
                    class_="row metal"),
                tag("div", asked("of", "bolt"), asked("put_on", "torque put on, as 48 N*m"), asked("using", "wrench"),
                    class_="row torque"),
                tag("div", tag("button", "One more metal", type="button", data_more="metal"),
                    tag("button", "One more bolt", type="button", data_more="torque"),
                    asked("notes", "notes"), class_="row"),
                tag("div", tag("button", "Judge it as made", type="submit", id="judge"),
                    tag("button", "Judge it and keep the record", type="button", id="keep"), class_="row"),
                id="measured", autocomplete="off"),
            tag("div", "", id="judged", role="status")),
        id="made-box", aria_label="As made",
    )  # fmt: skip


def _moved() -> Html:
    return tag(
        "section", tag("h2", "Moved since it was opened"), tag("div", tag("p", "Nothing."), id="moved"),
        tag("div", "", id="reformed"), tag("div", "", id="near"), id="moved-box", aria_label="Moved",
    )  # fmt: skip


def _solid() -> Html:
    stage = tag(
        "div",
        tag("canvas", "", tabindex="0", aria_label="The solid; arrow keys turn it"),
        class_="stage",
    )
    return tag(
        "section", tag("h2", "Solid"),
        tag("div", stage, tag("p", "", aria_live="polite", class_="unseen"),
            tag("p", "This browser draws nothing in three dimensions.", class_="no-3d", hidden=True), class_="solid"),
        tag("p", "Being built.", id="solid-said", class_="what"), id="solid-box", aria_label="Solid",
    )  # fmt: skip
