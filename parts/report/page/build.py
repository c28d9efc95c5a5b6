"""The page of a build: the vehicle in three dimensions, its parts, loads, rear end, findings and bills."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

import numpy as np

from parts.core.figures import figure
from parts.report.case_table import rows
from parts.report.page.buildlists import (
    Data,
    bought_shown,
    hardpoints_shown,
    masses_shown,
    of_all,
    stock_shown,
)
from parts.report.page.buildloads import balances, load_cases
from parts.report.page.document import document
from parts.report.page.files import OF_THE_WHOLE, addressed, cards
from parts.report.page.frame import BUILD_VIEWS, Fold, counted, framed, listed, view_buttons
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.joints import joints_table
from parts.report.page.mesh import Marks, Mesh, packed
from parts.report.page.rearend import rear_end
from parts.report.page.sheets import bar, verdict
from parts.report.page.travel import Travel
from parts.report.page.views import Named, view_figure

if TYPE_CHECKING:
    from parts.making.picture import View

PAGE = "index.html"
SCRIPTS = ("page.js", "travel.js", "viewer.js")
KG_PER_LB = 0.45359237


@dataclass(frozen=True)
class Space:
    """What is seen of a build, in vehicle axes.

    Attributes:
        meshes: surfaces by name; made parts, and one of all envelopes.
        bought: names of those that are bought-in hardware.
        view: from where it is seen first.
        points: hardpoints [mm].
        lines: members that are no parts, as chains of places [mm].
        stills: pictures with names on them.
        travel: how it moves with the rear wheel; None of a build without a rear end.
    """

    meshes: Mapping[str, Mesh]
    bought: Sequence[str]
    view: View
    points: Mapping[str, np.ndarray]
    lines: Sequence[np.ndarray]
    stills: Sequence[Named]
    travel: Travel | None = None


ABREAST = 11
"""Parts beside each other in the table of load cases, as many as a screen holds [-]."""


def build_page(data: Data, space: Space | None, files: Sequence[str] = ()) -> bytes:
    """Lay out the page of a build.

    Args:
        data: as `parts.folders.build_data.build_page_data` gives it.
        space: what is seen of it; None where no part has a place.
        files: names of the files beside the page.

    Returns:
        One HTML file that fetches nothing.
    """
    body = framed(_head(data), _glance(data, space, files), _folds(data, space, files))
    return document(_title(data), body, scripts=SCRIPTS if space else SCRIPTS[:1])


def _title(data: Data) -> str:
    return str(data["title"] or data["build"])


def _folds(data: Data, space: Space | None, files: Sequence[str]) -> Iterator[Fold]:
    short = [one["name"] for one in data["parts"] if not one["ok"]]
    said = f"{counted(len(data['parts']), 'part')}: {_short(short)}"
    yield Fold("parts", "Parts", said, _parts(data))
    views = joined(*map(view_figure, space.stills)) if space else None
    yield Fold("views", "Views", "with the names of parts and hardpoints, as on paper", views)
    wrong = [one["name"] for one in data["checks"] if not one["ok"]]
    said = f"{counted(len(data['checks']), 'check')}: {_short(wrong)}"
    yield Fold("checks", "Checks of the build itself", said, _checks(data))
    moved = len(data["changes"])
    yield Fold(
        "moved", "What moved", counted(moved, "change") if moved else "nothing", _moved(data)
    )
    found = _every_finding(data)
    said = f"{len(found)}: {found[0]}" if found else "nothing strikes, or is too near"
    yield Fold("findings", "What strikes or is too near", said, _findings(data))
    if data["rear_end"]:
        yield Fold(
            "rear-end",
            "Torsion-bar rear end",
            _rear_said(data["rear_end"]),
            rear_end(data["rear_end"]),
        )
    yield Fold(
        "uses", "Load cases times parts", "the share of each part that each case uses", _uses(data)
    )
    many = counted(len(data["cases"]), "load case")
    yield Fold("loads", "Where the loads come from", many, load_cases(data["cases"]))
    yield Fold(
        "balance",
        "Free bodies in balance",
        "the forces on each, and what is left over",
        balances(data),
    )
    mass, centre = of_all(data)
    said = (
        ""
        if centre is None
        else f"{mass:.3f} kg, centre at {', '.join(f'{v:.0f}' for v in centre)} mm"
    )
    yield Fold("masses", "Masses", said, masses_shown(data))
    many = counted(len(data["joints"]), "joint")
    yield Fold("joints", "Joints at their limits", many, joints_table(data["joints"]))
    bought = counted(len(data["bought"]), "kind", "kinds")
    yield Fold("bought", "Hardware to buy", bought, bought_shown(data))
    yield Fold("stock", "Stock to order", counted(len(data["stock"]), "piece"), stock_shown(data))
    places = counted(len(data["hardpoints"]), "place")
    yield Fold("hardpoints", "Hardpoints", f"{places} in vehicle axes", hardpoints_shown(data))
    parts = [one for one in data["parts"] if one["files"]]
    said = f"{counted(len(files), 'file')} of the whole, and those of {counted(len(parts), 'part')}"
    yield Fold("files", "Files", said, joined(_files(files), _files_of(parts)))
    cautions, uncovered = data["cautions"], data["not_covered"]
    said = f"{len(cautions)}: {cautions[0]}" if cautions else ""
    yield Fold("cautions", "Cautions", said, listed(cautions, class_="cautions"))
    yield Fold("not-covered", "Not covered", "; ".join(uncovered), listed(uncovered))


def _short(names: Sequence[str]) -> str:
    return f"{', '.join(names)} FALL SHORT" if names else "all hold"


def _rear_said(rear: Data) -> str:
    """The wheel at rest with its rider, or alone, in a line."""
    if not rear["at_rest"]:
        return "curves over the wheel's travel"
    one = rear["at_rest"][-1]
    who = "rider seated" if one["with_rider"] else "machine alone"
    return f"{who}: {one['sag_mm']:.0f} mm of sag, {_number(one['wheel_rate_N_per_mm'])} N/mm at the wheel"


def _glance(data: Data, space: Space | None, files: Sequence[str]) -> Html:
    """The first screen: the vehicle to be turned, what leaves least, what goes to whom."""
    sent = cards(files, OF_THE_WHOLE)
    least = _least(data)
    return tag(
        "div",
        _viewer(data, space) if space else None,
        tag("section", tag("h2", "Least left"), least, class_="closest", aria_label="The checks that leave least")
        if least else None,
        tag("nav", tag("h2", "To whom it goes"), sent, aria_label="What to send to whom") if sent else None,
        class_="glance",
    )  # fmt: skip


def _least(data: Data, many: int = 3) -> Html | None:
    """What leaves least, of the parts and of the build itself, with links."""
    own = [
        (one, f"{one['name']}: {one['governing']}", "", f"../{quote(one['name'])}/{PAGE}")
        for one in data["parts"] if one["governing"]
    ] + [(one, one["name"], one["load_case"], "#checks") for one in data["checks"]]  # fmt: skip
    first = sorted(own, key=lambda row: _room(row[0]))[:many]
    rows = [
        tag("li", tag(
            "a", tag("b", said), tag("span", case, class_="case"), bar(1.0 / max(_room(one), 1e-9)),
            tag("span", tag("span", "✓" if one["ok"] else "✗ SHORT", class_="holds" if one["ok"] else "short"),
                f" {_number(one['factor'])} of {_number(one['required'])}", class_="figures"), href=link,
        ))
        for one, said, case, link in first
    ]  # fmt: skip
    return tag("ol", *rows, class_="least") if rows else None


def _head(data: Data) -> Iterator[Html]:
    yield tag("h1", _title(data))
    mass, centre = of_all(data)
    count = sum(_count(one) for one in data["parts"])
    placed = (
        "" if centre is None else f", made parts {mass:.3f} kg ({mass / KG_PER_LB:.2f} lb) together"
    )
    yield tag(
        "p", f"Build {data['build']}: {len(data['parts'])} parts, {count} pieces of them{placed}.",
        class_="what",
    )  # fmt: skip
    short = [one["name"] for one in data["parts"] if not one["ok"]]
    short += [f"{one['name']} ({one['load_case']})" for one in data["checks"] if not one["ok"]]
    found = len(_every_finding(data))
    said = (
        joined(verdict(False), f": {', '.join(short)}.")
        if short
        else joined(verdict(True), ": every check of every part and of the build itself.")
    )
    near = "Nothing strikes or comes too near." if not found else f"{found} findings below."
    kind = "short" if short else "holds"
    yield tag("div", tag("p", said), tag("p", near), class_=f"verdict {kind}")


def _count(one: Data) -> int:
    return 2 if one["sides"] == "both" else 1


def _viewer(data: Data, space: Space) -> Html:
    buttons = view_buttons(BUILD_VIEWS)
    boxes = [
        tag("label", tag("input", type="checkbox", checked=True, data_piece=i), f" {name}")
        for i, name in enumerate(space.meshes)
    ]
    for mark, said in (
        ("data_names", "hardpoints"),
        ("data_lines", "members that are no parts, as lines"),
    ):
        box = tag("input", type="checkbox", checked=True, **{mark: True})
        boxes.append(tag("label", box, f" {said}"))
    keys = "Drag or use the arrow keys to turn it, + and - to come closer or go back, Home to begin again."
    marks = Marks(lines=space.lines, points=space.points, bought=space.bought, travel=space.travel)
    stage = tag(
        "div",
        tag("canvas", tabindex="0", role="img", aria_label=f"{_title(data)} in three dimensions. {keys}"),
        Html('<svg class="names" aria-hidden="true"></svg>'),
        class_="stage",
    )  # fmt: skip
    more = tag(
        "details", tag("summary", "More"),
        tag("div", *buttons, *boxes, class_="row"),
        tag("p", keys, " Shift and drag moves it aside. A name that finds no room shows when the eye comes closer. The "
            "palest solids are bought-in hardware as plain envelopes; wheels, rider and tubes of the frame are plain "
            "lines, drawn and not measured.",
            class_="what"),
    )  # fmt: skip
    return tag(
        "figure",
        tag(
            "div",
            stage,
            tag("p", "This browser draws nothing in three dimensions here; the views below show the build.",
                class_="no-3d", hidden=True),
            tag("div", space.travel.slider() if space.travel else None, more,
                class_="tools", role="group", aria_label="How to look at the build"),
            tag("p", "", aria_live="polite", class_="unseen"),
            id="viewer",
        ),
        tag("script", Html(packed(space.meshes, space.view, marks)), type="application/json", id="mesh"),
        class_="viewer",
    )  # fmt: skip


def _parts(data: Data) -> Html:
    head = ["part", "what it is", "material", "body", "number", "kg each", "governed by", "factor", "required",
            "verdict", "dimensions from"]  # fmt: skip
    rows = []
    for one in data["parts"]:
        link = tag("a", one["name"], href=f"../{quote(one['name'])}/{PAGE}")
        by = [one["governing"] or "no load cases", _number(one["factor"]), _number(one["required"])]
        said = verdict(one["ok"]) if one["governing"] else "not checked"
        mass = "" if one["mass_kg"] is None else f"{one['mass_kg']:.3f}"
        rows.append([link, ", ".join(filter(None, (one["title"], one["family"]))), one["material"], one["body"],
                     _count(one), mass, *by, said,
                     ", ".join(name.removeprefix("hardpoint ") for name in one["depends_on"])])  # fmt: skip
    return table("Parts of this build", head, rows, numbers=(4, 5, 7, 8))


def _uses(data: Data) -> Html | None:
    names = [name for name, own in data["uses"].items() if own]
    if not names:
        return None
    return joined(
        *(_uses_of(data, names[i : i + ABREAST], len(names) > ABREAST) for i in range(0, len(names), ABREAST)),
        tag("p", "The largest share of what a part may use that each case uses of it; 100 % is the limit. The largest "
                 "of each part has a star."),
        listed(data["loads_end"]),
    )  # fmt: skip


def _uses_of(data: Data, names: Sequence[str], named: bool) -> Html:
    cells = [[case, *own] for case, own in rows({name: data["uses"][name] for name in names})]
    said = f", {names[0]} to {names[-1]}" if named else ""
    numbers = tuple(range(1, len(names) + 1))
    return table(f"Load cases times parts{said}", ["load case", *names], cells, numbers=numbers)


def _number(value: Any) -> str:
    return "" if value is None else figure(value)


def _moved(data: Data) -> Html:
    rows = [[one["part"], one["what"], one["before"], one["after"]] for one in data["changes"]]
    if not rows:
        return tag("p", "Nothing moved.")
    if {one["part"] for one in data["changes"] if one["after"] == "new"} == {
        one["name"] for one in data["parts"]
    }:
        return tag("p", "This is the first build: nothing stands before it.")
    return table("Before and after", ["part", "what moved", "before", "after"], rows)


def _every_finding(data: Data) -> list[str]:
    return [*data["interference"], *data["cannot_be_put_together"], *data["out_of_place"]]


def _findings(data: Data) -> Html:
    found = _every_finding(data)
    looked = (
        f"Looked at: every pair of parts, and of parts and bought-in hardware as plain cylinders, for common volume "
        f"and for a clearance of {figure(data['clearance_mm'])} mm, as drawn and through the travel of the wheel and "
        "the range of the turnbuckle; the way of every pin and the room of a wrench on it; load points against "
        "their hardpoints. Frame, engine, wheels, hoses and rider are not modelled."
    )
    said = listed(found) if found else tag("p", "Nothing was found.")
    return joined(said, tag("p", looked, class_="what"))


def _checks(data: Data) -> Html | None:
    """What the build itself is held against, the check that governs first; None where it has none."""
    if not data["checks"]:
        return None
    rows = [
        [one["name"], one["load_case"], _number(one["demand"]), _number(one["capacity"]), one["unit"],
         "unbounded" if one["factor"] is None and one["ok"] else _number(one["factor"]), _number(one["required"]),
         verdict(one["ok"]), one["note"]]
        for one in sorted(data["checks"], key=_room)
    ]  # fmt: skip
    head = ["check", "where in the travel", "demand", "capacity", "unit", "factor", "required", "verdict",
            "to know"]  # fmt: skip
    return table(
        "Checks of the build itself, the one that governs first", head, rows, numbers=(2, 3, 5, 6)
    )


def _room(one: Data) -> float:
    """Factor over the required one [-], for sorting; a check without a number that does not hold comes first."""
    if one["factor"] is None:
        return np.inf if one["ok"] else -np.inf
    return float(one["factor"]) / float(one["required"])


def _files_of(parts: Sequence[Data]) -> Html | None:
    """What goes to whom of every part, each a link into its folder; None where none is made."""
    rows = []
    for one in parts:
        to: dict[str, list[Html]] = {}
        for path, who, _ in addressed(one["files"]):
            to.setdefault(who, []).append(
                tag("a", path.rpartition("/")[2], href=f"../{quote(path)}")
            )
        rows += [
            [one["name"], who, joined(*(more for link in links for more in (link, tag("br"))))]
            for who, links in to.items()
        ]
    return table("Files of the parts", ["part", "goes to", "files"], rows) if rows else None


def _files(names: Sequence[str]) -> Html | None:
    rows = [
        [tag("a", name, href=quote(name)), who, what]
        for name, who, what in addressed(names, OF_THE_WHOLE)
    ]
    return (
        table("Files beside this page", ["file", "goes to", "what it is"], rows) if rows else None
    )
