"""The page of one part, from what was made of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

import numpy as np

from parts.core.figures import figure
from parts.core.ways import tally
from parts.report.bill import merged
from parts.report.page.document import document
from parts.report.page.files import addressed, cards
from parts.report.page.frame import Fold, counted, framed, listed
from parts.report.page.given import dimensions_shown
from parts.report.page.html import Html, data_uri, joined, table, tag
from parts.report.page.joints import joints_table
from parts.report.page.loads import loads_said, loads_shown
from parts.report.page.made import as_made_fold
from parts.report.page.mesh import Marks, Mesh, packed
from parts.report.page.painted import Painted
from parts.report.page.proof import proof_section, proof_verdict
from parts.report.page.sheets import by_name, check_list, least_left, verdict
from parts.report.page.stresses import critical_sections, load_path, loops_in_space
from parts.report.page.tools import acting, part_tools, scale
from parts.report.proof.text import headline
from parts.report.text import fact_text, governing_sentences, remedy_text, way_rows

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.core.search.result import Result
    from parts.inputs.document import Document
    from parts.making.faces import Face
    from parts.making.model import Made
    from parts.making.picture import View
    from parts.proof.records import Proof

PAGE = "index.html"
SCRIPTS = (
    "page.js",
    "large.js",
    "key.js",
    "arrows.js",
    "painted.js",
    "cutting.js",
    "apart.js",
    "ruler.js",
    "viewer.js",
)
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
        proof: finite elements beside the hand calculation; None where it was not proved.
        faces: by the name of a piece, the face that each triangle of its mesh lies on, and the faces.
        hardware: what is bought, by its name: its surface, and how far it is shifted when it is pulled out [mm].
        key: an SVG of the part with the names of its dimensions; empty where none was drawn.
    """

    made: Made
    entry: Mapping[str, Any]
    meshes: Mapping[str, Mesh]
    view: View
    files: Mapping[str, bytes]
    written: Document | None = None
    proof: Proof | None = None
    faces: Mapping[str, tuple[np.ndarray, Sequence[Face]]] = field(default_factory=dict)
    key: bytes = b""
    hardware: Mapping[str, tuple[Mesh, np.ndarray]] = field(default_factory=dict)


def part_page(shown: Shown) -> bytes:
    """Lay out the page of a part.

    Args:
        shown: what there is to show.

    Returns:
        One HTML file that fetches nothing.
    """
    part = shown.made.result.part
    return document(f"{part.name} {part.title}".strip(), body(shown), scripts=SCRIPTS)


def body(shown: Shown) -> Html:
    """Everything between the head and the scripts of a part's page."""
    return framed(_head(shown), _glance(shown), _folds(shown))


def _folds(shown: Shown) -> Iterator[Fold]:
    made, entry = shown.made, shown.entry
    result, part = made.result, made.result.part
    worst = result.governing
    drawings = [name for name in shown.files if name.endswith("-drawing.svg")]
    drawn = f"{counted(len(drawings), 'sheet')}; a touch opens it large"
    yield Fold("drawing", "Drawing", drawn if drawings else "not made in this run", _drawing(shown))
    yield Fold("dimensions", "Dimensions", *dimensions_shown(part, shown.written, shown.key))
    yield Fold("facts", "What it comes to", *_facts(part))
    yield Fold("loads", "Loads", loads_said(part), loads_shown(part, entry["balance"]))
    yield Fold("checks", "Checks", _checks_said(result), _checks(result))
    said = counted(len({id(one.boundary) for one in made.cuts}), "section") + ", cut from the solid"
    if worst is not None and result.criticals:
        peak = max(float(one.stress.von_mises) for one in result.criticals)
        said += f"; the highest stress is {figure(peak)} MPa"
    yield Fold("section", "Critical sections", said, critical_sections(made, entry))
    yield Fold(
        "load-path",
        "Along the load path",
        "area, second moments and stress from end to end",
        load_path(made),
    )
    yield Fold("proof", "Proof by finite elements", *_proof(shown))
    ways = f"{tally(result.answers).said}." if result.answers else ""
    yield Fold("ways", "What can fail", ways, _ways(result))
    many = counted(len(entry["joints"]), "joint")
    yield Fold("joints", "Joints at their limits", many, joints_table(entry["joints"]))
    yield Fold("as-made", "As it was made", *as_made_fold(part, shown.written))
    yield Fold("hardware", "Hardware to buy", *_hardware(part))
    yield Fold(
        "files", "Files, and to whom they go", counted(len(shown.files), "file"), _files(shown)
    )
    yield Fold("pictures", "Pictures", "shaded, from two sides", _pictures(shown))
    cautions = entry["cautions"]
    yield Fold(
        "cautions",
        "Cautions",
        f"{len(cautions)}: {cautions[0]}",
        listed(cautions, class_="cautions"),
    )
    uncovered = entry["not_covered"]
    yield Fold("not-covered", "Not covered", "; ".join(uncovered), listed(uncovered))


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
    kind = ("holds" if result.ok else "short") if result.checks else ""
    yield tag("div", tag("p", *_verdict(result)), class_=f"verdict {kind}".strip())
    if result.checks and not result.ok:
        first, *others = remedy_text(result).splitlines()
        yield tag("p", first)
        yield listed([one.removeprefix("- ") for one in others])
    if shown.proof is not None:
        yield proof_verdict(shown.proof)


def _verdict(result: Result) -> Iterator[Any]:
    """In one line: whether it holds, and how much was looked at."""
    first, *_ = governing_sentences(result)
    if not result.checks:
        yield first
        return
    yield verdict(result.ok)
    if result.ok and result.once:
        yield f" once {result.once}"
    if not result.answers:
        yield f": {first.partition(': ')[2]}"
        return
    found = tally(result.answers)
    yield f": {found.checked} ways of failing checked, "
    yield tag("a", f"{len(found.left_out)} left out", href="#ways")
    if found.unanswered:
        yield f", {len(found.unanswered)} not looked at"


def _glance(shown: Shown) -> Html:
    """The first screen: the part to be turned, what leaves least, what goes to whom."""
    checks = shown.made.result.checks
    least = joined(tag("h2", "Least left"), least_left(checks)) if checks else None
    sent = cards(shown.files)
    return tag(
        "div", _viewer(shown),
        tag("section", least, class_="closest", aria_label="The checks that leave least") if least else None,
        tag("nav", tag("h2", "To whom it goes"), sent, aria_label="What to send to whom") if sent else None,
        class_="glance",
    )  # fmt: skip


def _facts(part: Part) -> tuple[str, Html | None]:
    """The first of them in a line, and all as a list."""
    facts = {name: fact_text(value, unit) for name, (value, unit) in part.facts().items()}
    pairs = [joined(tag("dt", name), tag("dd", said)) for name, said in facts.items()]
    said = "; ".join(f"{name} {said}" for name, said in list(facts.items())[:3])
    return said, tag("dl", *pairs, class_="terms") if pairs else None


def _proof(shown: Shown) -> tuple[str, Html | None]:
    if shown.proof is None:
        return "", None
    return headline(shown.proof), proof_section(shown.proof, shown.view)


def _pictures_of(shown: Shown) -> list[tuple[str, bytes]]:
    return [
        (name, content)
        for name, content in shown.files.items()
        if name.endswith(".png") and not name.startswith(PROOF)
    ]


def _viewer(shown: Shown) -> Html:
    made, part = shown.made, shown.made.result.part
    said = f"{part.name} in three dimensions"
    still = [
        tag("img", src=data_uri("image/png", content), alt=f"{part.name}, shaded picture")
        for _, content in _pictures_of(shown)[:1]
    ]
    names = list(shown.meshes)
    boxes = [
        tag("label", tag("input", type="checkbox", checked=True, data_piece=i), f" {name}")
        for i, name in enumerate(names)
        if len(names) > 1
    ]
    loops = loops_in_space(made.cuts)
    if loops:
        mark = tag("input", type="checkbox", checked=True, data_mark=True)
        boxes.append(tag("label", mark, " critical sections, outlined"))
    keys = "Drag or use the arrow keys to turn it, + and - to come closer or go back, Home to begin again."
    painted = Painted(made.result) if made.result.scans else None
    cases = acting(shown.entry["balance"], part)
    marks = Marks(
        loops, cases=cases, painted=painted, faces=shown.faces, bought=list(shown.hardware),
        apart={name: by for name, (_, by) in shown.hardware.items()},
    )  # fmt: skip
    meshes = {**shown.meshes, **{name: mesh for name, (mesh, _) in shown.hardware.items()}}
    return tag(
        "figure",
        tag(
            "div",
            tag("div", still, tag("canvas", tabindex="0", role="img", aria_label=f"{said}. {keys}"),
                Html('<svg class="names" aria-hidden="true"></svg>'), scale() if painted else None, class_="stage"),
            tag("p", "This browser draws nothing in three dimensions here; the picture shows the part.",
                class_="no-3d", hidden=True),
            tag("div", *part_tools(made.result, boxes, keys, bool(shown.hardware)), class_="tools", role="group",
                aria_label="How to look at the part"),
            tag("p", "", aria_live="polite", class_="unseen"),
            id="viewer",
        ),
        tag("script", Html(packed(meshes, shown.view, marks)), type="application/json", id="mesh"),
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
            tag("a", tag("img", src=data_uri("image/svg+xml", content),
                alt=f"Dimensioned drawing {name}; its dimensions stand in the tables below"),
                href=quote(name), class_="large"),
            tag("figcaption", tag("a", name, href=quote(name)), ", the drawing as it goes on paper"),
            class_="drawing",
        )
        for name, content in sheets_
    ]  # fmt: skip
    return joined(*drawn)


def _checks_said(result: Result) -> str:
    checks = result.checks
    if not checks:
        return "no load cases"
    short = sum(not one.ok for one in checks)
    names = counted(len(by_name(checks)), "check")
    said = "all hold" if not short else f"{short} of {len(checks)} FALL SHORT"
    return f"{names} under {counted(max(len(result.part.loads), 1), 'load case')}: {said}"


def _checks(result: Result) -> Html:
    if not result.checks:
        return tag("p", "No load cases: nothing was checked but the rules of shape.")
    button = tag(
        "button", "Unfold all sheets", type="button", id="unfold", aria_pressed="false", hidden=True
    )
    _, *sentences = governing_sentences(result)
    return joined(
        tag("p", " ".join(sentences)),
        tag("p", "Each with its calculation sheet, so that it can be redone by hand. ", button),
        *check_list(result.checks),
        tag("p", "Printed are the sheets that were unfolded on the screen.", class_="printed what"),
    )


def _ways(result: Result) -> Html | None:
    """Every way of failing, with what answers it; none for a part that does not name its joints."""
    if not result.answers:
        return None
    return table(
        "What can fail, and the check that answers it", ["joint or member", "way", "answer"], way_rows(result.answers)
    )  # fmt: skip


def _hardware(part: Part) -> tuple[str, Html]:
    bought = merged(part.bought())
    rows = [[one.designation, one.quantity, one.fits, one.source] for one in bought]
    if not rows:
        return "none", tag("p", "None.")
    said = ", ".join(f"{one.quantity} x {one.designation}" for one in bought)
    head = ["designation", "quantity", "fits", "source"]
    return said, table("Hardware to buy", head, rows, numbers=(1,))


def _files(shown: Shown) -> Html | None:
    rows = [
        [tag("a", name, href=quote(name)), who, what] for name, who, what in addressed(shown.files)
    ]
    if not rows:
        return None
    return table("Files of this part, beside this page", ["file", "goes to", "what it is"], rows)
