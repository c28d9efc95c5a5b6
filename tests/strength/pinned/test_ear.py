"""Ears: statics of the pin on two of them, and each as a cantilever."""

import pytest

from parts.strength.pinned import ear

EXACT = 1e-12  # round-off only


def test_a_tongue_off_the_middle_loads_the_near_ear_more():
    near, far = ear.load_share(P=900.0, a=4.0, b=8.0), ear.load_share(P=900.0, a=8.0, b=4.0)
    assert (near, far) == (600.0, 300.0)


def test_an_ear_pushed_sideways_is_a_cantilever():
    V = ear.side_load(L=20.0, w=25.0, t=6.0, F=250.0)
    assert ear.root_stress(P=0.0, V=V, L=20.0, w=25.0, t=6.0) == pytest.approx(250.0)
    assert ear.root_stress(P=1500.0, V=0.0, L=20.0, w=25.0, t=6.0) == 10.0
    bent = ear.side_deflection(V=V, L=20.0, E=205e3, w=25.0, t=6.0)
    assert bent == pytest.approx(V * 20.0**3 / (3 * 205e3 * 25.0 * 6.0**3 / 12), rel=EXACT)
