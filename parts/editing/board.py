"""Where the newest of each stage hangs: those who wait take what they have not seen, and nothing that is overtaken."""

from __future__ import annotations

from collections.abc import Mapping
from threading import Condition
from typing import Any

Told = Mapping[str, Any]


class Board:
    """The newest record of each stage; a slow reader misses records, and none pile up for it."""

    def __init__(self) -> None:
        self._told: dict[str, tuple[int, Told]] = {}
        self._count = 0
        self._closed = False
        self._changed = Condition()

    def put(self, told: Told) -> None:
        """Hang up a record by its `stage`, and wake those who wait."""
        with self._changed:
            self._count += 1
            self._told[told["stage"]] = self._count, told
            self._changed.notify_all()

    def get(self, stage: str) -> Told | None:
        """The newest record of a stage."""
        with self._changed:
            found = self._told.get(stage)
            return None if found is None else found[1]

    def close(self) -> None:
        """Send away those who wait."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def after(self, seen: int, seconds: float) -> tuple[int, list[Told]] | None:
        """What was hung up since.

        Args:
            seen: what the last call gave; 0 at first.
            seconds: how long to wait for something.

        Returns:
            A number for the next call, and the records, the oldest first; None when all is over.
        """
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._count > seen, seconds)
            if self._closed:
                return None
            new = (one for one in self._told.values() if one[0] > seen)
            return self._count, [told for _, told in sorted(new, key=lambda one: one[0])]
