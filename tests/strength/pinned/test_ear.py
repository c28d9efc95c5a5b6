"""Ears: statics of the pin on two of them, and each as a cantilever."""

from parts.strength.pinned import ear

EXACT = 1e-12  # round-off only


def test_a_tongue_off_the_middle_loads_the_near_ear_more():
    near, far = ear.load_share(P=900.0, a=4.0, b=8.0), ear.load_share(P=900.0, a=8.0, b=4.0)
    assert (near, far) == (600.0, 300.0)
