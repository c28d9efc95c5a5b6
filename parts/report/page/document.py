"""A page as one file: style sheet and scripts within it, and a policy that lets it fetch nothing."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from parts.report.page.html import Html, joined, script, source_hash, tag


@cache
def asset(name: str) -> str:
    """A style sheet or script of this folder, or of another package as in `parts.editing:hand.css`."""
    package, _, file = name.rpartition(":")
    return files(package or __package__).joinpath(file).read_text("utf-8")


def document(
    title: str,
    body: Html,
    *,
    scripts: tuple[str, ...] = (),
    styles: tuple[str, ...] = (),
    served: bool = False,
) -> bytes:
    """A whole page.

    Args:
        title: of the page.
        body: what is in it.
        scripts: names of the scripts that it runs.
        styles: names of style sheets beside that of every page.
        served: whether it speaks with the server that it comes from; else it stands alone.

    Returns:
        The file, UTF-8.
    """
    sheets = ("page.css", *styles)
    allowed = " ".join(source_hash(asset(name)) for name in scripts) or "'none'"
    own = " 'self'" if served else ""
    policy = (
        f"default-src 'none'; img-src data:{own}; style-src {' '.join(source_hash(asset(one)) for one in sheets)}; "
        f"script-src {allowed}; base-uri 'none'; form-action 'none'"
    )
    policy += "; connect-src 'self'" if served else ""
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        *[script("style", asset(one)) for one in sheets],
    )
    running = [script("script", asset(name)) for name in scripts]
    whole = tag("html", head, tag("body", body, *running), lang="en")
    return joined(Html("<!DOCTYPE html>\n"), whole, "\n").encode()
