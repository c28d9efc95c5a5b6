"""The fatigue of a preloaded bolt: its thread under a pull that comes and goes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.cycles import least_ratio
from parts.core.feature import Site
from parts.core.loads import LoadCase
from parts.standards.threads.threads import Thread
from parts.strength.bolted import fatigue
from parts.strength.method import plain, work

ON_AMPLITUDE = 1.2
"""Factor asked of a bolt's amplitude: VDI 2230-1:2003, 5.5.3, from memory."""


def tired_bolt(
    name: str,
    of: Thread,
    least: Any,
    pull: Any,
    case: LoadCase,
    site: Site,
    felt: Any = 1.0,
    bent: Any = 0.0,
) -> Iterator[Check]:
    """The bolt's thread under a pull that comes and goes; nothing where the case states no spectrum.

    All cycles of the part count as of this case's greatest block, times the factor on life.

    Args:
        name: of the bolt.
        of: its thread.
        least: the preload that can be counted on [N].
        pull: the greatest on the bolt under the case [N].
        case: the load case.
        site: where it stands, with all load cases of the part and the factors asked for.
        felt: share of the pull that the closed joint leaves to the bolt [-].
        bent: bending stress that the closed joint leaves to the bolt, worked or nil [MPa]; of a bolt that feels
            all of a pull found by tilting about a rim, that counts it.

    Returns:
        One check.
    """
    if not case.spectrum:
        return
    share = max(block.share for block in case.spectrum)
    most = share * np.asarray(plain(pull), float)
    stands = work(fatigue.endurance_rolled_before, d=of.major)
    loads = site.loads or (case,)
    cycles = sum(block.cycles for one in loads for block in one.spectrum)
    life, lowest = cycles * site.required(case).on_life, least_ratio(case, loads)
    yield check(
        f"{name} bolt, fatigue of its thread", "bolt fatigue", load_case=case.name, unit="MPa",
        demand=work(
            fatigue.bent_amplitude, R=lowest, s=share, sigma_b=bent,
            sigma_pull=work(
                fatigue.bolt_amplitude, F_i=least, P_max=most, P_min=lowest * most, C=felt, A_s=of.stress_area
            ),
        ),
        capacity=work(fatigue.rolled_amplitude, sigma_A=stands, N=life), required=ON_AMPLITUDE,
        note=f"{life:.3g} cycles: those of all cases as of this one, times the factor on life; least preload",
    )  # fmt: skip
