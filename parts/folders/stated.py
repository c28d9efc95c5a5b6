"""What a part's file states, with what its build gives it."""

from __future__ import annotations

from pathlib import Path

from parts.inputs.document import Document
from parts.inputs.reading import refers_to_build


def stated(document: Document) -> Document:
    """A part's document with what its build gives it."""
    if not refers_to_build(document):
        return document
    from parts.vehicle.file.loading import found_in_build

    build, name = found_in_build(Path(document.file), document)
    return build.stated(name)
