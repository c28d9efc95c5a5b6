"""A lug worked by another maker's data sheet: our lower estimate must lie below, and not far."""

from parts.strength import lug


def test_tear_out_lies_just_below_the_data_sheet():
    # British Aircraft Corporation, Structural Design Data Sheet 15.2.1, an example printed in a
    # calculation manual: a = 10, c = 8, d = 4, t = 1.5 mm, F_tu 58 ksi, 610 lbf uses 0.5463 of the
    # shear strength 0.46 x 2 a t K F_tu with K = 0.9 read off the sheet's graph.
    F_tu, size = 58.0 * 6.894757, {"D_h": 4.0, "t": 1.5}
    published = 610.0 * 4.448222 / 0.5463
    K_br = lug.shear_bearing_efficiency(R=10.0, r=float("inf"), F_su=0.6 * F_tu, F_tu=F_tu, **size)
    ours = K_br * F_tu * 4.0 * 1.5
    assert 0.9 * published < ours < published
