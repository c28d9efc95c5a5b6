"""The page of one part, from what was made of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

import numpy as np

from parts.core.figures import figure
from parts.core.ways import tally
from parts.report.bill import merged
from parts.report.page.document import document
from parts.report.page.files import addressed
from parts.report.page.frame import PART_VIEWS, framed, view_buttons
from parts.report.page.given import dimensions_of
from parts.report.page.html import Html, data_uri, joined, table, tag
from parts.report.page.joints import joints_table
from parts.report.page.mesh import Marks, Mesh, packed
from parts.report.page.proof import proof_section, proof_verdict
from parts.report.page.sheets import checks_table, sheets, verdict
from parts.report.page.stresses import critical_sections, load_path, loops_in_space, triple
from parts.report.text import fact_text, governing_sentences, remedy_text, way_rows

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.core.search.result import Result
    from parts.inputs.document import Document
    from parts.making.model import Made
    from parts.making.picture import View
    from parts.proof.records import Proof

PAGE = "index.html"
SCRIPTS = ("page.js", "viewer.js")
PROOF = "proof"
"""How the files of a proof begin; its pictures stand in its own section."""


@dataclass(frozen=True)
class Shown:
    """All that the page of a part shows.

    Attributes:
        made: the part as it was made.
        entry: its entry in the JSON report.
        meshes: the surface of each piece, by its name.
        view: from where it is seen first.
        files: what was written for it, bytes by name; pictures and drawings are shown from here.
        written: the YAML file that it was read from, if there is one.
        note: what the reader should know of this page itself.
        proof: finite elements beside the hand calculation; None where it was not proved.
    """

    made: Made
    entry: Mapping[str, Any]
    meshes: Mapping[str, Mesh]
    view: View
    files: Mapping[str, bytes]
    written: Document | None = None
    note: str = ""
    proof: Proof | None = None


def part_page(shown: Shown, version: int | None = None) -> bytes:
    """Lay out the page of a part.

    Args:
        shown: what there is to show.
        version: number of the page while it is watched; None for a page that stands alone.

    Returns:
        One HTML file that fetches nothing.
    """
    return whole_page(shown.made.result.part, body(shown), version)


def whole_page(part: Part, content: Html, version: int | None = None) -> bytes:
    """The page around what `body` laid out."""
    title = f"{part.name} {part.title}".strip()
    return document(title, content, scripts=SCRIPTS, version=version)


def body(shown: Shown) -> Html:
    """Everything between the head and the scripts of a part's page."""
    return framed(_head(shown), _sections(shown))


def _sections(shown: Shown) -> Iterator[tuple[str, str, Html | None]]:
    made = shown.made
    part = made.result.part
    yield "in-3d", "In three dimensions", _viewer(shown)
    yield "pictures", "Pictures", _pictures(shown)
    yield "drawing", "Drawing", _drawing(shown)
    yield "dimensions", "Dimensions", _dimensions(part, shown.written)
    yield "loads", "Loads", _loads(part, shown.entry["balance"])
    yield "section", "Critical sections", critical_sections(made, shown.entry)
    yield "load-path", "Along the load path", load_path(made)
    yield "proof", "Proof by finite elements", _proof(shown)
    yield "checks", "Checks", _checks(made)
    yield "ways", "What can fail", _ways(made.result)
    yield "joints", "Joints at their limits", joints_table(shown.entry["joints"])
    yield "hardware", "Hardware to buy", _hardware(part)
    yield "files", "Files, and to whom they go", _files(shown)
    yield "cautions", "Cautions", _list(shown.entry["cautions"], class_="cautions")
    yield "not-covered", "Not covered", _list(shown.entry["not_covered"])


def _head(shown: Shown) -> Iterator[Html]:
    made = shown.made
    part, result = made.result.part, made.result
    yield tag("h1", f"{part.name} {part.title}".strip())
    pieces = "" if len(part.pieces) == 1 else f", {len(part.pieces)} pieces"
    finish = f", {part.finish}" if part.finish else ""
    yield tag(
        "p", f"{part.family} in {part.metal.name}{finish}, {made.mass:.3f} kg{pieces}, "
        f"revision {part.revision}", class_="what",
    )  # fmt: skip
    first, *others = governing_sentences(result)
    kind = ("holds" if result.ok else "short") if result.checks else ""
    said = joined(verdict(result.ok), f": {first.partition(': ')[2]}") if kind else first
    yield tag(
        "div", tag("p", said), *[tag("p", one) for one in others], class_=f"verdict {kind}".strip()
    )
    if (
        result.checks and not result.ok and not shown.note
    ):  # a page that follows each save waits for no search
        first, *others = remedy_text(result).splitlines()
        yield tag("p", first)
        yield _list([one.removeprefix("- ") for one in others])
    if shown.proof is not None:
        yield proof_verdict(shown.proof)
    facts = [
        joined(tag("dt", name), tag("dd", fact_text(value, unit)))
        for name, (value, unit) in part.facts().items()
    ]
    if facts:
        yield tag("dl", *facts, class_="terms")
    if shown.note:
        yield tag("p", shown.note, class_="what")


def _proof(shown: Shown) -> Html | None:
    return None if shown.proof is None else proof_section(shown.proof, shown.view)


def _pictures_of(shown: Shown) -> list[tuple[str, bytes]]:
    return [
        (name, content)
        for name, content in shown.files.items()
        if name.endswith(".png") and not name.startswith(PROOF)
    ]


def _viewer(shown: Shown) -> Html:
    part = shown.made.result.part
    stills = _pictures_of(shown)
    said = f"{part.name} in three dimensions"
    still = [
        tag("img", src=data_uri("image/png", content), alt=f"{part.name}, shaded picture")
        for _, content in stills[:1]
    ]
    buttons = view_buttons(PART_VIEWS)
    names = list(shown.meshes)
    boxes = [
        tag("label", tag("input", type="checkbox", checked=True, data_piece=i), f" {name}")
        for i, name in enumerate(names)
        if len(names) > 1
    ]
    loops = loops_in_space(shown.made.cuts)
    if loops:
        mark = tag("input", type="checkbox", checked=True, data_mark=True)
        boxes.append(tag("label", mark, " critical sections, outlined"))
    keys = "Drag or use the arrow keys to turn it, + and - to come closer or go back, Home to begin again."
    return tag(
        "figure",
        tag(
            "div",
            still,
            tag("canvas", tabindex="0", role="img", aria_label=f"{said}. {keys}"),
            tag("p", "This browser draws nothing in three dimensions here; the pictures below show the part.",
                class_="no-3d", hidden=True),
            tag("div", *buttons, *boxes, class_="tools", role="group", aria_label="How to look at the part"),
            tag("p", "", aria_live="polite", class_="unseen"),
            id="viewer",
        ),
        tag("figcaption", keys, " Shift and drag moves it aside."),
        tag("script", Html(packed(shown.meshes, shown.view, Marks(loops))), type="application/json", id="mesh"),
        class_="viewer",
    )  # fmt: skip


def _pictures(shown: Shown) -> Html | None:
    part = shown.made.result.part
    stills = [
        tag(
            "figure",
            tag("img", src=data_uri("image/png", content), alt=f"{part.name}, shaded picture {i}"),
            tag("figcaption", name),
        )
        for i, (name, content) in enumerate(_pictures_of(shown), 1)
    ]
    return tag("div", *stills, class_="pictures") if stills else None


def _drawing(shown: Shown) -> Html:
    part = shown.made.result.part
    sheets_ = [
        (name, content) for name, content in shown.files.items() if name.endswith("-drawing.svg")
    ]
    if not sheets_:
        known = "" if part.drawn() else " This family has no drawing yet."
        command = tag("span", "oneoff make --for bench", class_="code")
        return tag("p", "No drawing was made in this run; ", command, f" makes it.{known}")
    drawn = [
        tag(
            "figure",
            tag("img", src=data_uri("image/svg+xml", content),
                alt=f"Dimensioned drawing {name}; its dimensions stand in the tables below"),
            tag("figcaption", tag("a", name, href=quote(name)), ", the drawing as it goes on paper"),
            class_="drawing",
        )
        for name, content in sheets_
    ]  # fmt: skip
    return joined(*drawn)


def _dimensions(part: Part, written: Document | None) -> Html:
    every = dimensions_of(part, written)
    head = ["dimension", "as given", "as understood", "what it is"]
    stated = [[_field(one.field), one.given, one.resolved, one.what] for one in every if one.stated]
    rest = [[_field(one.field), one.resolved, one.what] for one in every if not one.stated]
    source = f" from {written.file.rsplit('/', 1)[-1]}" if written else ""
    return joined(
        table(f"Dimensions as given{source} and as understood", head, stated),
        tag(
            "details",
            tag("summary", f"{len(rest)} left out in the file, with their defaults"),
            table("Defaults", ["dimension", "value", "what it is"], rest),
        )
        if rest
        else None,
    )


def _field(path: str) -> Html:
    """A dotted path, which may be broken after its dots."""
    steps = path.split(".")
    broken = [joined(step, ".", Html("<wbr>")) for step in steps[:-1]]
    return tag("span", *broken, steps[-1], class_="code")


def _loads(part: Part, balances: Sequence[Mapping[str, Any]]) -> Html | None:
    rows = []
    points = part.points()
    for i, case in enumerate(part.loads, 1):
        cycles = sum(block.cycles for block in case.spectrum)
        for load in case.forces:
            at = ", ".join(figure(v) for v in np.asarray(points[load.at], float))
            rows.append(
                [f"{i} {case.name}", f"{load.at} ({at})", *map(figure, load.force),
                 *(figure(v / 1000.0) for v in load.moment), figure(cycles) if cycles else "rare peak"]
            )  # fmt: skip
    if not rows:
        return None
    forces = [f"F{axis}, N" for axis in "xyz"] + [f"M{axis}, N·m" for axis in "xyz"]
    head = ["load case", "at point (x, y, z in mm)", *forces, "cycles"]
    axes = tag("p", f"Axes of the part: {part.axes}") if part.axes else None
    acting = table("What acts on the part", head, rows, numbers=tuple(range(2, 8)))
    held = [
        [one["load_case"], f"{by['by']} ({triple(by['at_mm'])})",
         *(figure(v) for v in by["force_N"]), *(figure(v / 1000.0) for v in by["moment_Nmm"])]
        for one in balances
        for by in one["reactions"]
        if any(by["force_N"]) or any(by["moment_Nmm"])
    ]  # fmt: skip
    if not held:
        return joined(axes, acting)
    head = ["load case", "by, at (x, y, z in mm)", *forces]
    caption = "What holds it: loads and these sum to nothing"
    return joined(axes, acting, table(caption, head, held, numbers=tuple(range(2, 8))))


def _checks(made: Made) -> Html:
    checks = made.result.checks
    if not checks:
        return tag("p", "No load cases: nothing was checked but the rules of shape.")
    button = tag(
        "button", "Unfold all sheets", type="button", id="unfold", aria_pressed="false", hidden=True
    )
    first, *others = sheets(checks)
    opened = Html(first.replace("<details", "<details open", 1))
    return joined(
        checks_table(checks),
        tag("h3", "Calculation sheets"),
        tag("p", "Each check, so that it can be redone by hand. ", button),
        opened,
        *others,
        tag("p", "Printed are the sheets that were unfolded on the screen.", class_="printed what"),
    )


def _ways(result: Result) -> Html | None:
    """Every way of failing, with what answers it; none for a part that does not name its joints."""
    if not result.answers:
        return None
    shown = table(
        "What can fail, and the check that answers it", ["joint or member", "way", "answer"], way_rows(result.answers)
    )  # fmt: skip
    return tag("details", tag("summary", f"{tally(result.answers).said}."), shown)


def _hardware(part: Part) -> Html:
    rows = [[one.designation, one.quantity, one.fits, one.source] for one in merged(part.bought())]
    if not rows:
        return tag("p", "None.")
    return table(
        "Hardware to buy", ["designation", "quantity", "fits", "source"], rows, numbers=(1,)
    )


def _files(shown: Shown) -> Html | None:
    rows = [
        [tag("a", name, href=quote(name)), who, what] for name, who, what in addressed(shown.files)
    ]
    if not rows:
        return None
    return table("Files of this part, beside this page", ["file", "goes to", "what it is"], rows)


def _list(entries: Sequence[str], **more: Any) -> Html | None:
    return tag("ul", *[tag("li", one) for one in entries], **more) if entries else None
