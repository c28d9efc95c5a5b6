"""The page of a family in the manual: load points with axes, the key of every option, every field, what can fail."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from parts.core.figures import figure
from parts.core.ways import tally
from parts.inputs.problems import InputError
from parts.report.catalogue import dimensions
from parts.report.page.frame import Fold, counted, listed
from parts.report.page.html import Html, table, tag
from parts.report.page.key import key_figure, picture_figure
from parts.report.starter import options, started
from parts.report.text import way_rows

if TYPE_CHECKING:
    from parts.core.part import Part


def file_of(name: str) -> str:
    """The page of a family, or of whatever has a name."""
    return f"{name.casefold().replace(' ', '-')}.html"


Picture = Callable[["Part"], bytes]


def family_page(
    name: str, family: type[Part], picture: Picture, points: Picture
) -> Iterator[Html | Fold]:
    """Lay out a family.

    Args:
        name: of the family.
        family: the family.
        picture: draws the key of a part as SVG; empty where there is none.
        points: draws its axes and load points as SVG.

    Yields:
        What stands open, then what folds.
    """
    yield tag("p", f"{family.summary[:1].upper()}{family.summary[1:]}.")
    yield tag("p", f"Axes: {family.axes}.")
    every = examples_of(family)
    parts = [part for part, _ in every]
    yield _points(family, parts)
    # The example with most of them.
    shown, what = max(every, key=lambda one: len(one[0].points()))
    if drawn := points(shown):
        yield picture_figure(drawn, f"{name}, {what}: its axes, and where loads may act")
    for number, (part, what) in enumerate(every, 1):
        drawn = picture(part)
        if drawn:
            yield tag("h2", what, id=f"key-{number}")
            yield key_figure(drawn, f"{name}, {what}: what each dimension means", number)
    rows = [
        [tag("span", path, class_="code", data_field=_bare(path)), what, default or "must be given"]
        for path, what, default in dimensions(family)
    ]
    yield Fold("fields", "Every field", counted(len(rows), "field"),
               table(f"Fields of {name}", ["field", "what it is", "where left out"], rows))  # fmt: skip
    result = parts[0].check()
    if result.answers:
        head = ["joint or member", "way", "answer"]
        yield Fold("ways", "What can fail of the first example", f"{tally(result.answers).said}.",
                   table("What can fail", head, [list(row) for row in way_rows(result.answers)]))  # fmt: skip
    yield Fold(
        "not-covered", "Not covered", "; ".join(family.not_covered), listed(family.not_covered)
    )


def examples_of(family: type[Part]) -> list[tuple[Part, str]]:
    """The examples of a family, and then one for each option that none of them shows; of options alike, once.

    Args:
        family: the family.

    Returns:
        Each with what it shows.
    """
    parts = [family.model_validate(dict(one)) for one in family.examples]
    found = [(part, ", ".join(dict.fromkeys(options_of(part))) or part.title) for part in parts]
    shown = {_alike(one) for part in parts for one in options_of(part)}
    for option, within in options(family).items():
        if _alike(option) in shown:
            continue
        try:
            part = family.model_validate(started(family, [*within, option]))
        except (InputError, ValidationError):
            continue  # an option that takes more than itself to make a part: a family gives an example of it
        found.append((part, option))
        shown |= {_alike(one) for one in options_of(part)}
    return found


def _alike(option: str) -> str:
    """An option without what it stands in, but for the group that holds it: two ends have holes alike."""
    path, _, word = option.partition("=")
    return f"{'.'.join(path.split('.')[-2:])}={word}" if "." in path else option


def _bare(path: str) -> str:
    """A path of the schema as it stands in a key: without the options in brackets."""
    return ".".join(step.partition(" (")[0] for step in path.split(".")).replace("[]", "")


def _points(family: type[Part], parts: list[Part]) -> Html:
    """Where a load may act, with the place of each in the first example that has it."""
    rows = []
    for name, by in family.load_points.items():
        place = next((part.points()[name] for part in parts if name in part.points()), None)
        at = "" if place is None else ", ".join(figure(float(v)) for v in place)
        rows.append([name, by or "always", at])
    return table(
        "Load points",
        ["load point", "comes with", "in an example: x, y, z in mm"],
        rows,
    )


def options_of(value: Any, path: str = "") -> list[str]:
    """Every option of a part, as `shank=spigot`."""
    found: list[str] = []
    if isinstance(value, list | tuple):
        return [one for entry in value for one in options_of(entry, path)]
    for name in getattr(type(value), "model_fields", ()):
        inner = getattr(value, name)
        if name == "type" and isinstance(inner, str):
            found.append(f"{path}={inner}")
        elif name not in ("loads", "outputs", "drawing") and not isinstance(inner, str):
            found += options_of(inner, f"{path}.{name}".removeprefix("."))
    return found
