"""Every command of `oneoff`: importing this registers each with `app`."""

# In the order of the help.
from parts.cli import (
    as_made,
    changes,
    check,
    explain,
    families,
    gauge,
    lookup,
    make,
    manual,
    new,
    prove,
    readings,
    schema,
    size,
    sweep,
    watch,
)
from parts.cli.app import app

__all__ = [
    "app",
    "as_made",
    "changes",
    "check",
    "explain",
    "families",
    "gauge",
    "lookup",
    "make",
    "manual",
    "new",
    "prove",
    "readings",
    "schema",
    "size",
    "sweep",
    "watch",
]
