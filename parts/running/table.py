"""Results of pieces in a CSV file, a row each, written as they come: a run that was stopped goes on where it was."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

KEY, INPUTS = "row", "inputs"


class Table:
    """A file of results by the key of the row, each with a digest of all that it hangs on.

    A row counts as done where its digest is the one that is wanted now; all others go. A last row
    that a killed run left half written does not count.
    """

    def __init__(self, file: Path, columns: Sequence[str], wanted: Mapping[str, str]) -> None:
        """Of a file, which need not be there.

        Args:
            file: the file.
            columns: names of the results.
            wanted: digest of each row by its key, in the order of the rows.

        Raises:
            OSError: the disk refused.
        """
        self.file, self.columns, self.wanted = file, (KEY, INPUTS, *columns), wanted
        self.rows: dict[str, dict[str, str]] = {}
        for row in self._read():
            if wanted.get(row[KEY]) == row[INPUTS]:
                self.rows.setdefault(row[KEY], row)
        self._write_all()

    @property
    def left(self) -> list[str]:
        """Keys of the rows that are still to be done."""
        return [key for key in self.wanted if key not in self.rows]

    def add(self, key: str, results: Mapping[str, object]) -> None:
        """Write a row, once: the disk has it when this returns."""
        if key in self.rows:
            return
        row = {name: str(results.get(name, "")) for name in self.columns}
        row |= {KEY: key, INPUTS: self.wanted[key]}
        self.rows[key] = row
        with self.file.open("ab") as stream:
            stream.write(self._line(list(row.values())))
            stream.flush()
            os.fsync(stream.fileno())

    def close(self) -> None:
        """Put the rows into their order."""
        self._write_all()

    def _write_all(self) -> None:
        self.file.parent.mkdir(parents=True, exist_ok=True)
        lines = [self._line(self.columns)]
        lines += [
            self._line([self.rows[key][name] for name in self.columns])
            for key in self.wanted
            if key in self.rows
        ]
        beside = self.file.with_name(f".{self.file.name}.new")
        beside.write_bytes(b"".join(lines))
        os.replace(beside, self.file)

    def _read(self) -> list[dict[str, str]]:
        try:
            text = self.file.read_bytes().decode("utf-8", "replace")
        except FileNotFoundError:
            return []
        whole = text[: text.rfind("\n") + 1]
        reader = csv.DictReader(io.StringIO(whole))
        if tuple(reader.fieldnames or ()) != self.columns:
            return []
        return [row for row in reader if None not in row and None not in row.values()]

    @staticmethod
    def _line(cells: Sequence[str]) -> bytes:
        stream = io.StringIO()
        csv.writer(stream, lineterminator="\n").writerow(cells)
        return stream.getvalue().encode()
