"""One call for many: arrays give what the numbers give, in the function and in its range."""

import importlib
import inspect

import numpy as np
import pytest

# A plausible value for every argument, in the units of the docstrings.
TYPICAL = {
    "f": 90.0,
    "d_m": 9.6,
    "zeta": 0.03,
    "f_n": 180.0,
    "o": 1.5,
    "cm": 5e-7,
    "A": 110.0,
    "A_gv": 400.0,
    "A_nt": 80.0,
    "A_nv": 300.0,
    "A_v": 150.0,
    "C_b": 1.0,
    "C_r": 0.9,
    "D": 12.0,
    "D_3": 9.9,
    "D_h": 12.3,
    "D_p": 12.0,
    "E": 205e3,
    "EI_1": 2e8,
    "EI_2": 9e8,
    "EI_3": 3e8,
    "F": 300.0,
    "F_br": 500.0,
    "F_bru": 600.0,
    "F_cy": 350.0,
    "F_s": 200.0,
    "F_su": 250.0,
    "F_tu": 420.0,
    "F_ty": 330.0,
    "F_u": 420.0,
    "F_y": 330.0,
    "I_e": 4600.0,
    "I_min": 4600.0,
    "K": 0.7,
    "L": 260.0,
    "L_0": 260.0,
    "L_1": 30.0,
    "L_2": 200.0,
    "L_3": 25.0,
    "L_b": 90.0,
    "M": 9e4,
    "M_0": 9e4,
    "M_n": 2e5,
    "M_u": 1.4e5,
    "N": 4e3,
    "N_n": 3e4,
    "P": 5e3,
    "P_E": 1.3e5,
    "P_a": 3e3,
    "P_au": 2e4,
    "P_b": 2e4,
    "P_t": 1e3,
    "P_tu": 9e3,
    "P_v": 3e4,
    "R": 15.0,
    "T": 5e3,
    "U_bs": 1.0,
    "V": 2e3,
    "V_n": 2e4,
    "V_u": 3e4,
    "a": 9.0,
    "alpha": 0.34,
    "b": 7.0,
    "b_e": 7.0,
    "b_eff": 6.5,
    "braced": 1.0,
    "c": 10.0,
    "d": 5.0,
    "d_c": 2.5,
    "e": 4.0,
    "eta": 0.3,
    "g": 0.5,
    "gain": 2.0,
    "grip": 20.0,
    "h": 6.0,
    "k": 1.2,
    "l_c": 8.0,
    "l_w": 40.0,
    "m": 1e-3,
    "n": 2.0,
    "nu": 0.3,
    "plane": 12.0,
    "q": 0.2,
    "r": 15.0,
    "s": 20.0,
    "shank": 18.0,
    "t": 5.0,
    "t1": 5.0,
    "t2": 8.0,
    "turning": 1.0,
    "u": 0.2,
    "u_cr": 0.2,
    "w": 30.0,
    "w_0": 40.0,
    "w_n": 25.0,
}


def methods():
    for name in (
        "pinned.lug",
        "pinned.ear",
        "pinned.pin",
        "pinned.standards",
        "columns.column",
        "plates.plate",
    ):
        module = importlib.import_module(f"parts.strength.{name}")
        for label, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and hasattr(function, "formula"):
                yield pytest.param(function, id=f"{name}.{label}")


@pytest.mark.parametrize("function", list(methods()))
def test_arrays_give_what_numbers_give(function):
    names = list(inspect.signature(function).parameters)
    scale = np.array([[1.0], [1.02]])
    many = {n: TYPICAL[n] * scale if i % 2 else np.full(3, TYPICAL[n]) for i, n in enumerate(names)}
    got = np.asarray(function(**many))
    shape = (2, 3) if len(names) > 1 else (3,)
    assert got.shape == shape
    assert np.all(np.isfinite(got))
    one = function(**{n: TYPICAL[n] for n in names})
    assert np.ndim(one) == 0
    np.testing.assert_allclose(np.ravel(got)[0], one, rtol=1e-12)
    if function.holds is not None:
        holds = np.asarray(function.holds(**many))
        assert np.all(holds) and np.broadcast_shapes(holds.shape, shape) == shape
