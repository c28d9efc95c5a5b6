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
    open,
    proof_load,
    prove,
    readings,
    schema,
    size,
    sure,
    sweep,
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
    "open",
    "proof_load",
    "prove",
    "readings",
    "schema",
    "size",
    "sure",
    "sweep",
]
