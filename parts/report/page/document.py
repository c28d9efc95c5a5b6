"""A page as one file: style sheet and scripts within it, and a policy that lets it fetch nothing."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from parts.report.page.html import Html, joined, script, source_hash, tag


@cache
def asset(name: str) -> str:
    """A style sheet or script of this folder."""
    return files(__package__).joinpath(name).read_text("utf-8")


def document(
    title: str, body: Html, *, scripts: tuple[str, ...] = (), version: int | None = None
) -> bytes:
    """A whole page.

    Args:
        title: of the page.
        body: what is in it.
        scripts: names of the scripts that it runs.
        version: number of the page while it is watched: it then follows the file; None for a page that stands
            alone.

    Returns:
        The file, UTF-8.
    """
    running = (*scripts, "live.js") if version is not None else scripts
    allowed = " ".join(source_hash(asset(name)) for name in running) or "'none'"
    policy = (
        f"default-src 'none'; img-src data:; style-src {source_hash(asset('page.css'))}; "
        f"script-src {allowed}; base-uri 'none'; form-action 'none'"
    )
    policy += "; connect-src 'self'" if version is not None else ""
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        script("style", asset("page.css")),
    )
    banner = tag("p", "", id="watch", role="alert") if version is not None else None
    whole = tag(
        "html",
        head,
        tag("body", banner, body, *[script("script", asset(name)) for name in running]),
        lang="en",
        data_version=version,
    )
    return joined(Html("<!DOCTYPE html>\n"), whole, "\n").encode()
