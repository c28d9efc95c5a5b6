"""What every group of dimensions has in common."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Self

from pydantic import BaseModel, ConfigDict


class Group(BaseModel):
    """A named group of dimensions: closed to unknown keys, and never changed in place."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        arbitrary_types_allowed=True,
        # Only the groups of the families that are read are ever worked out.
        defer_build=True,
        # A default is in mm, N, radians: read as input it would take the units of the builder's file.
        # A designation as a default needs `Field(..., validate_default=True)` of its own.
        validate_default=False,
    )

    def given(self) -> frozenset[str]:
        """Fields whose values the row that another field names gives: they are not varied by themselves."""
        return frozenset()

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with some values replaced, unvalidated; nothing worked out from the old values stays."""
        copy = super().model_copy(update=update, deep=deep)
        for name in [name for name in copy.__dict__ if name not in type(self).model_fields]:
            del copy.__dict__[name]
        return copy
