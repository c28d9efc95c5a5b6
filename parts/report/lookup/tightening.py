"""What a bolt is tightened to: torque dry and oiled, with the preload that comes of it."""

from __future__ import annotations

from parts.features.bolts.torque import NUT_FACTOR, PROOF_SHARE, SCATTER
from parts.report.lookup.answer import Answer, Entry, Grid, Group, Plain
from parts.report.lookup.hardware import any_length
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.aircraft import nut_torques
from parts.standards.fasteners.bolt_form import Bolt
from parts.strength.bolted import tightening

FINISHES = (("dry, zinc plated or as received", NUT_FACTOR), ("oiled", 0.18))
"""Torque over preload and diameter [-]: Shigley, Table 8-15, from memory."""
SOURCE = "nut factors of Shigley, Table 8-15, and the share of proof of eq. 8-31, from memory"
SPREAD = (
    f"A torque wrench leaves the preload {SCATTER:.0%} to either side (common practice, no source); oil on a thread "
    "that was reckoned dry overtightens it. The torque of the maker of a bearing, brake or engine goes before these."
)


def of_torque(text: str) -> Answer:
    """A bolt by thread and class, or by part number: preload and torque.

    Raises:
        UnknownDesignation: it is no bolt, or nothing is published to tighten it by.
    """
    of = any_length(text)
    groups = [one for one in (_by_proof(of), _by_aircraft_table(of)) if one is not None]
    if not groups:
        raise UnknownDesignation(
            "torque", text, f"no proof stress and no torque of {of.strength.name} is held"
        )
    return Answer("torque", " ".join(text.split()), tuple(groups), (SPREAD,))


def _by_proof(of: Bolt) -> Grid | None:
    proof = of.proof_load
    if proof is None:
        return None
    load = PROOF_SHARE * proof
    rows: list[tuple[Plain, ...]] = []
    for finish, factor in FINISHES:
        torque = float(tightening.torque_by_nut_factor(load, of.thread.major, factor)) / 1000.0
        rows.append(
            (
                f"{finish} (nut factor {factor:.2f})",
                torque,
                load,
                (1.0 - SCATTER) * load,
                (1.0 + SCATTER) * load,
            )
        )
    columns = (
        ("thread and face", ""), ("torque", "N*m"), ("preload", "N"), ("may be", "N"), ("up to", "N"),
    )  # fmt: skip
    name = f"tightened to {PROOF_SHARE:.0%} of proof, for a bolt that is taken out again"
    return Grid(name, columns, tuple(rows), f"{SOURCE}; proof: {of.strength.source}")


def _by_aircraft_table(of: Bolt) -> Group | None:
    if of.proof_load is not None:
        return None
    found = nut_torques(of.thread)
    if found is None:
        return None
    entries = [
        Entry(what, (low / 1000.0, high / 1000.0), "N*m")
        for what, (low, high) in (
            ("nut in tension", found.tension), ("thin nut, shear alone", found.shear)
        )
    ]  # fmt: skip
    return Group("torque of the nut, dry", tuple(entries), found.source)
