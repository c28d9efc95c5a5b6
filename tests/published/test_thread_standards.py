"""Thread areas and strengths: ASME B1.1, FED-STD-H28, ISO 898-1 and the insert standards."""

from evidence import COMPANIONS, FROM_MEMORY, LOOKED_UP, row, table

test_looked_up = table(
    "ASME B1.1, tensile stress areas as Wentzell, Machine Design, table 6.1, prints them", LOOKED_UP,
    row("3/4-10 UNC", "bolted.thread.stress_area_unified", "0.334 in^2", d="0.75 in", p="0.1 in"),
    row("1 1/4-12 UNF", "bolted.thread.stress_area_unified", "1.073 in^2", d="1.25 in", p="0.083333333 in"),
    via=COMPANIONS,
)  # fmt: skip

test_unified = table(
    "FED-STD-H28 and ASME B1.1", FROM_MEMORY,
    row("3/8-24 UNF: stress area", "bolted.thread.stress_area_unified", "0.0878 in^2", d="0.375 in", p="0.041666667 in"),
    row("1/4-20 UNC: stress area", "bolted.thread.stress_area_unified", "0.0318 in^2", d="0.25 in", p="0.05 in"),
    row("3/4-16 UNF: stress area", "bolted.thread.stress_area_unified", "0.373 in^2", d="0.75 in", p="0.0625 in"),
    row("1/4-20 UNC: external strip area of an inch", "bolted.stripping.external_strip_area", "0.368 in^2", p="0.05 in",
        L_e="1 in", D1_max="0.2070 in", d2_min="0.2127 in"),
    row("1/4-20 UNC: internal strip area of an inch", "bolted.stripping.internal_strip_area", "0.539 in^2", p="0.05 in",
        L_e="1 in", d_min="0.2408 in", D2_max="0.2224 in"),
    row("NASM33537: tapped hole of a 1/4-20 insert", "bolted.stripping.insert_major_diameter", "0.3150 in", 2e-4,
        "printed to four decimals, rounded up", d="0.25 in", p="0.05 in"),
)  # fmt: skip

test_metric = table(
    "ISO 898-1:2013 and ISO 724", FROM_MEMORY,
    row("M6: stress area", "bolted.thread.stress_area_iso", "20.1 mm^2", d=6.0, p=1.0),
    row("M12: stress area", "bolted.thread.stress_area_iso", "84.3 mm^2", d=12.0, p=1.75),
    row("M10 x 1.25: stress area", "bolted.thread.stress_area_iso", "61.2 mm^2", d=10.0, p=1.25),
    row("M10: root diameter", "bolted.thread.root_diameter", "8.160 mm", d=10.0, p=1.5),
    row("M12: root diameter", "bolted.thread.root_diameter", "9.853 mm", d=12.0, p=1.75),
)  # fmt: skip
