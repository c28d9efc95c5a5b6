"""One call for many: in bolts, threads and rod ends arrays give what the numbers give."""

import importlib
import inspect

import numpy as np
import pytest

# A value inside every method's range for each argument, in the units of the docstrings.
TYPICAL = {
    "A": 60.0, "A_d": 50.3, "A_ext": 200.0, "A_int": 270.0, "A_n": 46.0,
    "A_s": 36.6, "A_t": 36.6, "B": 15e3, "C": 0.25, "C1": 0.9,
    "C_0": 25e3, "D": 25.4, "D1_max": 6.912, "D2_max": 7.348, "D_A": 22.0, "D_b": 11.0, "D_o": 20.0,
    "E": 19.0, "E_b": 205e3, "E_p": 71e3, "F": 15e3,
    "F_i": 12e3, "F_m": 14e3, "F_nt": 620.0, "F_nv": 372.0, "F_p": 23e3,
    "F_u": 620.0, "G": 14.0, "K": 19.0, "L": 20.0, "L_e": 12.0, "M": 500.0, "N": 2e3, "P": 6e3,
    "P_max": 6e3, "P_min": 0.0, "R": 1.2, "R_m": 830.0, "S": 13.0, "S_e": 129.0, "S_ut": 830.0,
    "T": 10.3, "T_u": 2e4, "V": 400.0, "V_u": 1e4, "a": 20.0, "a_ext": 11.0, "a_int": 15.0,
    "alpha_b": 11.7e-6, "alpha_m": 23.6e-6, "b": 20.0, "beta": 0.2, "d": 8.0, "d2": 7.188,
    "d2_min": 7.042, "d3": 8.16, "d_h": 8.4, "d_s": 6.83, "d_min": 7.76, "d_w": 12.0, "f_T": 0.005, "f_v": 100.0,
    "f_z": 0.01, "h": 2.0, "k_b": 3e5, "k_m": 6e5, "l_c": 8.0, "l_d": 12.0, "l_t": 8.0, "largest": 8.0,
    "loss": 500.0, "m": 2.0, "mu": 0.15, "mu_b": 0.12, "mu_t": 0.12, "n": 4.0, "p": 1.25,
    "fall": 40.0, "phi": 0.75, "s": 1.25, "scatter": 0.3, "share": 0.7, "sigma": 600.0,
    "sigma_A": 51.0, "sigma_b": 60.0, "sigma_pull": 20.0,
    "sigma_i": 420.0, "sigma_p": 640.0, "stretch": 0.0, "t": 5.0, "tapped": 1.0,
    "tau": 165.0, "tau_ext": 480.0, "tau_int": 200.0, "tau_n": 250.0, "thread": 1.0,
}  # fmt: skip
OWN = {"bolted.plate": {"T": 4e3, "p": 40.0}, "race_capacity": {"p": 140.0}}
WORDS = ("made",)
"""Arguments that are a choice in words, and so no arrays."""


def methods():
    for name in (
        "bolted.thread",
        "bolted.joint",
        "bolted.stiffness",
        "bolted.fatigue",
        "bolted.plate",
        "pinned.rod_end",
    ):
        module = importlib.import_module(f"parts.strength.{name}")
        for label, function in inspect.getmembers(module, inspect.isfunction):
            own = function.__module__ == module.__name__ and hasattr(function, "formula")
            own = own and not set(WORDS) & set(inspect.signature(function).parameters)
            if own and label != "series_stiffness":  # takes its layers along the last axis
                yield pytest.param(
                    function, OWN.get(name, OWN.get(label, {})), id=f"{name}.{label}"
                )


@pytest.mark.parametrize(("function", "own"), list(methods()))
def test_arrays_give_what_numbers_give(function, own):
    names = list(inspect.signature(function).parameters)
    given = {n: own.get(n, TYPICAL[n]) for n in names}
    scale = np.array([[1.0], [1.005]])
    many = {n: v * scale if i % 2 else np.full(3, v) for i, (n, v) in enumerate(given.items())}
    shape = (2, 3) if len(names) > 1 else (3,)
    got = np.asarray(function(**many))
    assert got.shape == shape
    assert np.isfinite(got).all()
    one = function(**given)
    assert np.ndim(one) == 0
    np.testing.assert_allclose(got.flat[0], one, rtol=1e-12)
    if function.holds is not None:
        holds = np.asarray(function.holds(**many))
        assert holds.all()
        assert np.broadcast_shapes(holds.shape, shape) == shape
