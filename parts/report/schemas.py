"""The JSON Schema of each family's YAML file, for editors that complete and check it."""

from __future__ import annotations

import json
from typing import Any

from parts.core.part import Part
from parts.families import families
from parts.inputs.reading import file_schema
from parts.study.made.record import MadeFile
from parts.vehicle.file.entries import BuildFile
from parts.vehicle.survey.entries import SurveyFile

BUILD = "build.schema.json"
BESIDE = {BUILD: BuildFile, "readings.schema.json": SurveyFile, "made.schema.json": MadeFile}
"""Files beside those of parts, by the name of their schema."""
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_bytes(family: type[Part]) -> bytes:
    """The schema of one family, the same bytes on every run."""
    schema = file_schema(family)
    schema["required"] = [
        "family",
        *(name for name in schema.get("required", ()) if name != "family"),
    ]
    return _laid_out(schema)


def schema_files() -> dict[str, bytes]:
    """The schema of every family, and of the files beside parts, by file name."""
    by_family = {
        f"{name.replace(' ', '-')}.schema.json": schema_bytes(family)
        for name, family in families().items()
    }
    return {**by_family, **{name: _laid_out(file_schema(one)) for name, one in BESIDE.items()}}


def _laid_out(schema: dict[str, Any]) -> bytes:
    return (
        json.dumps({"$schema": DIALECT, **schema}, indent=1, ensure_ascii=False) + "\n"
    ).encode()
