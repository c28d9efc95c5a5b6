"""Every page of the manual: families with their keys, builds, look-ups, what can fail, methods, messages, commands."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from parts.families import families
from parts.report.manual.build import build_chapter
from parts.report.manual.families import Picture, family_page, file_of
from parts.report.manual.methods import evidence, methods
from parts.report.page.document import document
from parts.report.page.frame import Fold, counted, framed
from parts.report.page.html import Html, joined, table, tag

SCRIPTS = ("page.js", "key.js")
CHAPTERS = {
    "build.html": "A build of several parts",
    "look-ups.html": "Look-ups",
    "ways.html": "What can fail",
    "methods.html": "Methods",
    "messages.html": "Messages and their cures",
    "commands.html": "Commands",
}
"""Pages beside those of the families."""
WAYS = (
    "Every way in which a kind of joint or member can fail, and the methods of which one answers it. A part says "
    "on its page which of them were checked, and why others need no check."
)
METHODS = (
    "A method is a published formula. Out of its range it gives a stated bound, or no number at all, which never "
    "passes. The evidence counts worked examples: answers that were looked up, closed forms, sums by hand, and "
    "answers quoted from memory."
)
RULES = (
    "A part that breaks a rule is refused with file, line and field. These are the rules, family by family, with "
    "what goes wrong beyond the limit and how to meet it."
)


@dataclass(frozen=True)
class Command:
    """A command: its name, what it does, and its arguments and options with what each means."""

    name: str
    does: str
    takes: Sequence[tuple[str, str]]


def manual(
    commands: Sequence[Command],
    picture: Picture,
    points: Picture,
    step: Callable[[str], None] = lambda _: None,
) -> Iterator[tuple[str, bytes]]:
    """Lay out the manual.

    Args:
        commands: of the terminal.
        picture: draws the key of a part as SVG.
        points: draws its axes and load points as SVG.
        step: told the name of each family before its pictures are drawn, which takes a while.

    Yields:
        Name and content of each page.
    """
    yield "index.html", _page("The manual of oneoff-parts", _contents())
    for name, family in families().items():
        step(name)
        yield file_of(name), _page(name, *family_page(name, family, picture, points))
    yield "build.html", _page(CHAPTERS["build.html"], *build_chapter())
    yield "look-ups.html", _page(CHAPTERS["look-ups.html"], _lookups())
    yield "ways.html", _page(CHAPTERS["ways.html"], _ways())
    yield "methods.html", _page(CHAPTERS["methods.html"], *_methods())
    yield "messages.html", _page(CHAPTERS["messages.html"], *_messages())
    yield "commands.html", _page(CHAPTERS["commands.html"], *map(_command, commands))


def _page(title: str, *content: Html | Fold) -> bytes:
    """A page with the way back to the contents."""
    first = [one for one in content if isinstance(one, Html)]
    folds = [one for one in content if isinstance(one, Fold)]
    head = [tag("h1", title), tag("p", tag("a", "contents", href="index.html"), class_="what")]
    return document(title, framed(head, joined(*first), folds), scripts=SCRIPTS)


def _contents() -> Html:
    rows = [
        [tag("a", name, href=file_of(name)), family.summary] for name, family in families().items()
    ]
    others = [tag("li", tag("a", said, href=file)) for file, said in CHAPTERS.items()]
    return joined(
        table("Families", ["family", "what it is"], rows, narrow=True),
        tag("h2", "Beside the families"),
        tag("ul", *others),
    )


def _lookups() -> Html:
    from parts.report.lookup import KINDS, as_text

    found = []
    for kind in KINDS:
        words = ", ".join((*kind.others, *kind.leading))
        asked = f"oneoff lookup {kind.name} {kind.example}"
        found.append(joined(
            tag("h2", kind.name, id=file_of(kind.name).removesuffix(".html")),
            tag("p", tag("span", asked, class_="code"), f"; also called {words}" if words else ""),
            tag("pre", as_text(kind.read(kind.example))),
        ))  # fmt: skip
    return joined(*found)


def _ways() -> Html:
    from parts.core.ways import ways

    rows = [
        [one.kind, one.name, one.what, ", ".join(sorted(one.methods)), one.source] for one in ways()
    ]
    return joined(
        tag("p", WAYS),
        table("What can fail", ["kind", "way", "what it is", "methods that answer it", "listed by"], rows),
    )  # fmt: skip


def _methods() -> Iterator[Html | Fold]:
    weighed = evidence()
    yield tag("p", METHODS)
    rooms: dict[str, list[list[str]]] = {}
    for name, function in methods():
        first = (function.__doc__ or "").strip().split("\n")[0]
        row = [
            name.rpartition(".")[2],
            first,
            function.formula,
            function.valid,
            function.source,
            weighed.get(name, "none"),
        ]
        rooms.setdefault(name.partition(".")[0], []).append(row)
    head = ["method", "what it gives", "formula", "valid for", "source", "evidence"]
    for room, rows in rooms.items():
        yield Fold(room, room, counted(len(rows), "method"), table(room, head, rows))


def _messages() -> Iterator[Html | Fold]:
    """Every rule of every example: what a builder reads where it is broken, and how it is met."""
    yield tag("p", RULES)
    for name, family in families().items():
        said: dict[tuple[str, ...], None] = {}
        for example in family.examples:
            part = family.model_validate(dict(example))
            said |= {(one.field, one.sense, one.why, one.how): None for one in part.rules()}
        rows = [[field, sense, why, how] for field, sense, why, how in said]
        head = ["field", "is held to", "what goes wrong", "the cure"]
        yield Fold(
            file_of(name).removesuffix(".html"),
            name,
            counted(len(rows), "rule"),
            table(name, head, rows),
        )


def _command(one: Command) -> Fold:
    rows = [[name, what] for name, what in one.takes]
    listing = table(
        f"oneoff {one.name}", ["argument or option", "what it means"], rows, narrow=True
    )
    return Fold(f"command-{one.name}", f"oneoff {one.name}", one.does, listing)
