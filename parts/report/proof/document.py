"""The proof as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any

from parts.core.cautions import IN_SHORT
from parts.proof.records import COVERS_NOT, Proof
from parts.report.proof.text import headline


def json_of(proofs: Sequence[Proof]) -> bytes:
    """Proofs as one JSON document; every number in mm, N, MPa, N*mm, Hz."""
    document = {
        "proofs": [record(one) for one in proofs],
        "not_covered": list(COVERS_NOT),
        "caution": IN_SHORT,
    }
    return (json.dumps(document, indent=1, ensure_ascii=False, default=str) + "\n").encode()


def entry(proof: Proof) -> dict[str, Any]:
    """One proof for the report of its part: the same on every run, so without what it took."""
    found = record(proof)
    for row in (found, *found["pieces"]):
        del row["seconds"]
    del found["memory_mb"], found["part"]
    return {**found, "headline": headline(proof), "not_covered": list(COVERS_NOT)}


def record(proof: Proof) -> dict[str, Any]:
    """One proof as plain values, without its pictures; which numbers agree is stated beside them."""
    found = asdict(replace(proof, skins=()))
    del found["skins"]
    for row in found["pieces"]:
        for cell in row["cases"]:
            del cell["points"]
    found["pictures"] = sorted(proof.pictures)
    found["ok"] = proof.ok
    for piece, row in zip(proof.pieces, found["pieces"], strict=True):
        row["strain_energy_error"] = piece.error**2
        for case, cell in zip(piece.cases, row["cases"], strict=True):
            for one, values in zip(case.beside, cell["beside"], strict=True):
                values["ratio"], values["ok"], values["verdict"] = one.ratio, one.ok, one.verdict
    return found
