"""What the long run keeps: parts as their files would state them, and what the elements found of them."""

import json
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))

from kept import hangs_on, packed, read, same, stated, unpacked
from long_run import parts, rows_of
from proof_parts import drawn


@pytest.mark.parametrize(
    ("family", "seed"), [("gusset plate", 2), ("foot-control bracket", 3), ("frame tab", 1), ("clevis", 0)]
)  # fmt: skip
def test_a_drawn_part_is_read_back_from_what_is_kept(family, seed):
    """Angles, designations, and rows that state the values of other fields."""
    _, part = drawn(family, seed)
    data = json.loads(json.dumps(stated(part)))
    assert stated(read(data)) == stated(part)
    wider = read({**data, "loads": [{**data["loads"][0], "name": "another"}]})
    assert not same(hangs_on(part), hangs_on(wider))
    assert same(hangs_on(part), json.loads(json.dumps(hangs_on(read(data)))))


def test_points_are_kept_to_a_twentieth_of_a_millimetre():
    random = np.random.default_rng(1)
    points = np.column_stack(
        [random.uniform(-300.0, 300.0, (200, 3)), random.uniform(10.0, 250.0, 200)]
    )
    found = unpacked(json.loads(json.dumps(packed(points))))
    np.testing.assert_allclose(found.places, points[:, :3], atol=0.026)
    np.testing.assert_allclose(found.mises, points[:, 3], atol=250.0 / 30_000)


def test_the_hand_side_is_worked_out_anew_and_a_changed_solid_is_not_compared():
    kept = next(one for one in parts() if "part" in one and not one["failed"])
    found = list(rows_of(kept))
    assert {"critical section", "highest peak"} <= {row["kind"] for row in found}
    assert all(float(row["hand"]) > 0.0 and float(row["fe"]) > 0.0 for row in found)
    (piece, *_), solid = kept["hangs_on"], {k: dict(v) for k, v in kept["hangs_on"].items()}
    solid[piece]["solid"] = [1.01 * v for v in solid[piece]["solid"]]
    (row,) = rows_of({**kept, "hangs_on": solid})
    assert row["kind"] == "changed since"
