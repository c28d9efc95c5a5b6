"""The JSON Schema of each family's YAML file, for editors that complete and check it."""

from __future__ import annotations

import json

from parts.families import families
from parts.inputs.reading import file_schema
from parts.part import Part

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_bytes(family: type[Part]) -> bytes:
    """The schema of one family, the same bytes on every run."""
    schema = {"$schema": DIALECT, **file_schema(family)}
    schema["required"] = [
        "family",
        *(name for name in schema.get("required", ()) if name != "family"),
    ]
    return (json.dumps(schema, indent=1, ensure_ascii=False) + "\n").encode()


def schema_files() -> dict[str, bytes]:
    """The schema of every family by file name."""
    return {
        f"{name.replace(' ', '-')}.schema.json": schema_bytes(family)
        for name, family in families().items()
    }
