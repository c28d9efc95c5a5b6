"""Jindal, Machine Design: worked examples."""

from evidence import COMPANIONS, LOOKED_UP, module, row, table

joint = module("bolted.joint")
tightening = module("bolted.tightening")
M18 = {
    "d2": (18.0 + 18.0 - 1.2268 * 2.5) / 2.0,
    "p": 2.5,
    "mu_t": 0.15,
    "mu_b": 0.13,
    "D_b": 1.25 * 18.0,
}
THROAT = "the throat is taken as 0.707 of the leg"

test_examples = table(
    "Jindal, Machine Design", LOOKED_UP,
    row("example 3-14, p. 83: hub pressed on 80 mm, pressure from its strain", "shafts.press_fit.push_out_force",
        "13.52 kN",
        p=5.38125, d=80.0, L=50.0, mu=0.2),
    row("example 3-16, p. 83: 46.41 N m in a shaft of 20 mm, 130/2.2 MPa", "pinned.pin.bending_stress", "59.09 MPa",
        M="46.410 N*m", D=20.0),
    row("example 3-20, p. 86: chimney of 5 by 3 m, own weight 420 and wind 2000 on 10.681 [kPa, kN m, m³]",
        "columns.link.pushed_and_bent_stress",
        "607.24 -", 1e-4, "the modulus is written with five figures", P=420.0, A=1.0, M_1=2000.0, M_2=0.0, W=10.6814),
    row("example 3-21, p. 87: shaft of 30 mm", "shafts.torsion_bar.shear_stress", "105.63 MPa", T="560 N*m", d=30.0),
    row("example 3-21: its twist", "shafts.torsion_bar.twist", "4.92 deg", T="560 N*m", d=30.0, L=1000.0, G=82e3),
    row("example 9-1, p. 266: M16 x 2", "bolted.thread.stress_area_iso", "156.7 mm^2", d=16.0, p=2.0),
    row("example 9-1: M16 x 1.5", "bolted.thread.stress_area_iso", "167.2 mm^2", d=16.0, p=1.5),
    row("example 9-3, p. 267: nut factor of M18", "bolted.tightening.tightening_torque", "0.18343 -", 3e-4,
        "tan 30° and the pitch diameter are rounded",
        work=lambda: tightening.tightening_torque(F=1.0 / 18.0, **M18)),
    row("example 9-5, p. 268: torque of M14", "bolted.tightening.torque_by_nut_factor", "157.0 N*m", F="56062.5 N", d=14.0,
        K=0.2),
    row("example 9-6, p. 269: final stress of M20", "bolted.joint.bolt_force", "532.65 MPa",
        work=lambda: joint.bolt_force(120e3, 30e3, 0.35) / 245.0),
    row("example 11-1, p. 322: plate between rivets", "pinned.lug.net_section_load", "60.000 kN", w=100.0, D_h=25.0,
        t=20.0,
        F=40.0),
    row("example 11-1: shear of the rivet", "pinned.pin.single_shear", "122.23 MPa", F=60e3, D=25.0),
    row("example 11-1: bearing of the rivet at 120 MPa", "pinned.lug.bearing_load", "60.000 kN", D_p=25.0, t=20.0,
        F_br=120.0),
    row("example 12-1, p. 347: four fillets of 8 by 60 mm under 100 kN", "welded.weld.throat_stress", "73.7 MPa",
        q=[100e3 / 240.0, 0.0, 0.0], h=8.0),
    row("example 12-3, p. 348: two fillets of 12 by 60 mm at 80 MPa", "welded.weld.fillet_capacity", "81.446 kN", 2e-4,
        THROAT,
        read=lambda q: 120.0 * q, h=12.0, t=50.0, S_w=80.0, tau_haz=500.0, sigma_haz=500.0),
    via=COMPANIONS,
)  # fmt: skip
