"""The proof in what was made of a part: its report and its page are laid out again with it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from parts.core.part import Part
from parts.proof.records import Proof

if TYPE_CHECKING:
    from parts.inputs.document import Document
    from parts.making.model import Made

REPORT, PAGE = "report.json", "index.html"


def reported(
    part: Part,
    beside: Mapping[str, bytes],
    proof: Proof,
    made: Made | None = None,
    written: Document | None = None,
) -> dict[str, bytes]:
    """Report and page of a part with its proof in them.

    Args:
        part: the part.
        beside: the files in the part's own folder by name, those of its proof among them.
        proof: its proof.
        made: the part as it was made in this run; None where it was made before.
        written: its YAML file.

    Returns:
        The files by name; none where nothing was made of this very part, as it stands now.
    """
    from parts.folders.part_files import Order, Outputs
    from parts.making.model import MakeError, model

    if made is None:
        before = _entry(beside.get(REPORT, b""))
        if before is None:
            return {}
        try:
            made = model(part)
        except MakeError:
            return {}
    order = Order(written=written, proof=proof)
    outputs = Outputs(made, order)
    if not made.files and not _same(before, outputs.entry):
        return {}
    others = sorted(
        name for name in beside if name != PAGE and name[0] != "." and name.isprintable()
    )
    return outputs.with_proof({name: beside[name] for name in others})


def _entry(report: bytes) -> dict[str, Any] | None:
    """The entry of the one part of a report; None where there is none to be read."""
    try:
        (entry,) = json.loads(report)["parts"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return entry if isinstance(entry, dict) else None


def _same(before: dict[str, Any] | None, now: dict[str, Any]) -> bool:
    """True where two entries say the same of a part, but for the proof."""
    if before is None:
        return False
    plain = json.loads(json.dumps(now))
    return {**before, "proof": None} == {**plain, "proof": None}
