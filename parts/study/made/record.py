"""The record of a piece that was made: who, when, with what, of which metal, to which torque, and what was measured.

It is a YAML file in the folder `made` beside the part's file, named as the part and its revision: `made/HC-104-A.yaml`;
of further pieces `made/HC-104-A-2.yaml`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field, StringConstraints

from parts.core.group import Group
from parts.core.part import Part
from parts.inputs.document import Document, read_document
from parts.inputs.names import PartName
from parts.inputs.problems import InputError, Problem
from parts.inputs.quantities import PositiveLength, PositiveMoment
from parts.inputs.reading import validated, wanted_as

FOLDER = "made"
CALIPER = 0.05
"""Error of a reading where none is stated [mm]; a caliper's, common practice, no source."""
Day = Annotated[str, StringConstraints(pattern=r"\d{4}-\d{2}-\d{2}")]
Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]


class Metal(Group):
    """The metal of a piece."""

    of: Words = Field("all", description="The piece, where there are several.")
    what: Words = Field(description="Alloy, condition and form, as on the bill.")
    heat: Words | None = Field(None, description="Heat or melt number.")
    certificate: Words | None = Field(None, description="Number of its certificate.")


class Torque(Group):
    """What a bolt was tightened to."""

    of: Words = Field(description="The bolt.")
    put_on: PositiveMoment = Field(description="The torque.")
    using: Words | None = Field(None, description="Wrench, and its last calibration.")


class Pulled(Group):
    """A proof load that was put on."""

    test: str = Field(description="The proof-load.json of the test, beside this file.")
    readings: str = Field(description="CSV of what the gauges read, beside this file.")
    when: Day | None = Field(None, description="The day, as in 2026-11-14.")


class MadeFile(Group):
    """A piece as it was made."""

    made: PartName = Field(description="Name of the part.")
    revision: Words = Field("A", description="Revision that it was made to.")
    piece: Words = Field("1", description="Which of several alike.")
    who: Words | None = Field(None, description="Who made it.")
    when: Day | None = Field(None, description="The day, as in 2026-11-14.")
    tools: list[Words] = Field(
        default_factory=list, max_length=50, description="Machines, and what it was measured with."
    )
    metal: list[Metal] = Field(
        default_factory=list, max_length=50, description="Metal, heats and certificates."
    )
    torque: list[Torque] = Field(
        default_factory=list, max_length=100, description="Torques put on."
    )
    table: str | list[str] | None = Field(
        None,
        description="CSV of measured sizes beside this file, or the filled inspection sheet; a list where the part has "
        "several sheets.",
    )
    sizes: dict[str, PositiveLength] = Field(
        default_factory=dict, description="Measured sizes by the path of the dimension."
    )
    fits: dict[str, dict[str, PositiveLength]] = Field(
        default_factory=dict,
        description="Measured sizes of a joint, its name first, what was bought for it too; `within` where these were "
        "read more closely.",
    )
    within: PositiveLength = Field(
        CALIPER, description="How far a reading may be off; a caliper's where left out."
    )
    proof_load: Pulled | None = Field(None, description="The proof load that was put on.")
    notes: list[Words] = Field(default_factory=list, max_length=50, description="What else.")

    @property
    def tables(self) -> Sequence[str]:
        """Its tables of measured sizes."""
        return [self.table] if isinstance(self.table, str) else self.table or []


@dataclass(frozen=True)
class Record:
    """A record as it was read, with its file."""

    document: Document
    entry: MadeFile

    @property
    def path(self) -> Path:
        return Path(self.document.file)

    def place(self, *path: str | int) -> str:
        """File and line of an entry, for messages."""
        return f"{self.document.file}:{self.document.place(path)[0]}"


def is_record(path: Path) -> bool:
    """Whether a file is a record, by its ending: tables are CSV."""
    return path.suffix.casefold() in (".yaml", ".yml")


def read_record(path: Path, part: Part) -> Record:
    """Read a record.

    Args:
        path: the file.
        part: the part that it should be of.

    Raises:
        InputError: it is wrong, or of another part or revision.
    """
    document = read_document(path)
    wanted_as(document, "record")
    entry = validated(document, MadeFile)
    for key, own in (("made", part.name), ("revision", part.revision)):
        said = getattr(entry, key)
        if said != own:
            line, column = document.place((key,))
            raise InputError([Problem("other_part", str(path), line, column, key, "", f"it is of {said}",
                                      f"the part is {part.name}, revision {part.revision}")])  # fmt: skip
    return Record(document, entry)


def records_of(file: str | Path, part: Part) -> tuple[Path, ...]:
    """The records that lie beside a part's file, of its own revision, in the order of their names."""
    return records_named(Path(file).parent, part.name, part.revision)


def records_named(beside: Path, name: str, revision: str) -> tuple[Path, ...]:
    """The same by the folder of the part's file, its name and its revision."""
    folder = beside / FOLDER
    stem = f"{name}-{revision}"
    found = [folder / f"{stem}.yaml", *sorted(folder.glob(f"{stem}-*.yaml"))]
    return tuple(one for one in found if one.is_file())


def blank_record(part: Part) -> bytes:
    """A record to be filled in."""
    lines = [
        f"# {part.name} {part.title} as it was made; sizes as measured, in any unit.",
        f"made: {part.name}", f"revision: {part.revision}", "units: mm", "# who: own shop", "# when: 2026-01-31",
        "tools: []                # mill, lathe, caliper, micrometer ...",
        f"metal: [{{what: {part.metal.name}}}]    # heat: ..., certificate: ...",
        "torque: []               # {of: mount 1, put_on: 48 N*m, using: click wrench}",
        f"# table: {part.name}-{part.revision}.csv      # what `oneoff as-made --blank` gives, or the inspection sheet",
        "sizes: {}                # plate.thickness: 23.9", "fits: {}                 # joint: {size: 9.98}",
        "within: 0.05             # how far a reading may be off", "notes: []", "",
    ]  # fmt: skip
    return "\n".join(lines).encode()
