"""Why a part could not be proved, in one line that a builder can act on."""

from __future__ import annotations

HOW_TO_GET_IT = (
    "finite elements are an extra: install it with `pip install 'oneoff-parts[proof]'` "
    "(netgen-mesher, ngsolve)"
)


class ProofError(Exception):
    """The piece could not be proved; the message says why and what would help."""


TOO_LITTLE = "the memory allowed is too small; allow more, or fewer unknowns"


def is_memory(error: Exception) -> bool:
    """True where an error means that memory ran out: the solver says so in words of its own."""
    return isinstance(error, MemoryError) or any(
        word in str(error) for word in ("allocat", "bad_alloc", "out of memory")
    )


def needed() -> None:
    """Refuse in one line where the extra is not installed.

    Raises:
        ProofError: netgen or ngsolve is missing.
    """
    from importlib.util import find_spec

    if find_spec("netgen") is None or find_spec("ngsolve") is None:
        raise ProofError(HOW_TO_GET_IT)
