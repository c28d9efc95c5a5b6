"""What every group of dimensions has in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Group(BaseModel):
    """A named group of dimensions: closed to unknown keys, and never changed in place."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        arbitrary_types_allowed=True,
        # A default is in mm, N, radians: read as input it would take the units of the builder's file.
        # A designation as a default needs `Field(..., validate_default=True)` of its own.
        validate_default=False,
    )
