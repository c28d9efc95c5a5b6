"""The JSON Schema of each family's YAML file, for editors that complete and check it."""

from __future__ import annotations

import json
from typing import Any

from parts.core.part import Part
from parts.families import families
from parts.inputs.reading import file_schema
from parts.vehicle.file.entries import BuildFile

BUILD = "build.schema.json"
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
    """The schema of every family, and of the build file, by file name."""
    by_family = {
        f"{name.replace(' ', '-')}.schema.json": schema_bytes(family)
        for name, family in families().items()
    }
    return {**by_family, BUILD: _laid_out(file_schema(BuildFile))}


def _laid_out(schema: dict[str, Any]) -> bytes:
    return (
        json.dumps({"$schema": DIALECT, **schema}, indent=1, ensure_ascii=False) + "\n"
    ).encode()
