"""A part read from texts that are not on the disk yet, through its build where it has one."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from parts.inputs.document import Document, content_of, parse_document
from parts.inputs.problems import InputError
from parts.inputs.reading import read_parsed, refers_to_build
from parts.vehicle.build import Build
from parts.vehicle.file.forms import forms_in
from parts.vehicle.file.loading import found_in_build
from parts.vehicle.file.values import PartValues

if TYPE_CHECKING:
    from parts.core.part import Part

Texts = Mapping[str, str]
"""What files are to say, by their path, as far as it is not what the disk says."""


class Source:
    """Reads files: of those that were changed, what they are to say."""

    def __init__(self, texts: Texts) -> None:
        self._texts = {Path(name).resolve(): text for name, text in texts.items()}

    def __call__(self, file: Path) -> bytes:
        text = self._texts.get(file.resolve())
        return content_of(file) if text is None else text.encode()


class Reader:
    """Reads one part again and again; what its build comes to is kept where a change leaves it as it was."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.build: Build | None = None
        self.name = ""

    def document(self, texts: Texts) -> Document:
        """The part's file as it is to be.

        Raises:
            InputError: it is no YAML.
        """
        return parse_document(Source(texts)(self.file), str(self.file))

    def warm(self) -> None:
        """Read the build from the disk, and keep it."""
        document = self.document({})
        if refers_to_build(document):
            self.build, self.name = found_in_build(self.file, document)
            self.build.part(self.name)

    def part(self, texts: Texts) -> Part:
        """The part as its texts state it.

        Raises:
            InputError: with every problem.
        """
        from parts.families import families

        document = self.document(texts)
        if not refers_to_build(document):
            return read_parsed(document, families())
        if (build := self._kept(document, texts)) is not None:
            return build.part(self.name)
        known, name = found_in_build(self.file, document)
        return Build(known.path, Source(texts)).part(name)

    def _kept(self, document: Document, texts: Texts) -> Build | None:
        """The build with the part as it is now, where all else comes to the same."""
        build = self.build
        if (
            build is None
            or not build.stands
            or any(Path(one).resolve() != self.file.resolve() for one in texts)
        ):
            return None
        before = build.written(self.name)
        if _taken(before) != _taken(document) or before.data.get("name") != document.data.get(
            "name"
        ):
            return None
        # Other parts may take from it and give nothing back; the rear end and the hardpoints give to all.
        waiting = [one for one in build.references if one not in build.names]
        seen: set[str] = set()
        while waiting:
            one = waiting.pop()
            if one not in seen:
                seen.add(one)
                waiting += build.references.get(one, ())
        changed = build.with_document(self.name, document)
        return changed if self.name not in seen or self._gives_the_same(build, changed) else None

    def _gives_the_same(self, build: Build, changed: Build) -> bool:
        """Whether all that was taken of the part is as it was."""
        before, now = PartValues(build, ""), PartValues(changed, "")
        try:
            return all(
                before.value(self.name, one) == now.value(self.name, one)
                for one in list(build.taken.get(self.name, ()))
            )
        except (InputError, KeyError):
            return False


def _taken(document: Document) -> list[object]:
    """What a part's file takes from its build, and where."""
    return [document.data.get("build"), *forms_in(document.data)]
