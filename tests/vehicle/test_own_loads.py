"""A load of one part's own file at a joint is borne by the part on its other side too, or the build falls short."""

import pytest
from builds import DEMO, copied
from command import oneoff

from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from parts.vehicle.own_loads import own_load_checks

HAUL = """loads:
  - name: hauled
    forces:
      - {at: end b, force: {x: 2.4 kN}}
"""


def found(build):
    return {one.name: one for one in own_load_checks(build)}


def test_every_own_load_of_the_demo_is_borne_on_both_sides_of_its_joint():
    checks = found(build_of(DEMO))
    assert len(checks) == 5 and all(one.ok for one in checks.values())
    # The arm's file says in the link's direction what the link's file says: 1.2 kN that push.
    push = checks["HC-103 at link on arm, own load borne by HC-106"]
    assert (push.demand, push.capacity) == pytest.approx((1200.0, 1200.0), rel=1e-6)


def test_a_pull_of_a_strut_alone_is_told_at_both_of_its_ends(tmp_path):
    """The strut is pulled at its upper end by 2.4 kN and held at its lower one: gusset and clevis are pulled as much.
    The most that the build pulls them with is 1600 N."""
    path = copied(tmp_path)
    file = path.parent / "hc-102-subframe-link.yaml"
    file.write_text(file.read_text().replace("loads:\n", HAUL))
    checks = found(Build(path))
    lower = checks["HC-102 at strut foot, own load borne by HC-109"]
    assert (lower.demand, lower.load_case, lower.ok) == (pytest.approx(2400.0), "hauled", False)
    assert lower.capacity == pytest.approx(1600.0, rel=2e-3)
    upper = checks["HC-102 at seat mount, own load borne by HC-101"]
    assert upper.capacity == pytest.approx(1600.0, rel=2e-3) and not upper.ok
    run = oneoff("check", path, "--all")
    assert run.returncode == 1
    assert "own load borne by HC-109" in " ".join(run.stdout.split())


def test_a_load_the_other_way_is_another_load(tmp_path):
    """1.5 kN that push are not borne where 1.6 kN that pull are: the most that pushes the gusset is 1.4 kN."""
    path = copied(tmp_path)
    file = path.parent / "hc-102-subframe-link.yaml"
    file.write_text(file.read_text().replace("loads:\n", HAUL.replace("2.4", "-1.5")))
    lower = found(Build(path))["HC-102 at strut foot, own load borne by HC-109"]
    assert (lower.demand, lower.ok) == (pytest.approx(1500.0), False)
    assert lower.capacity == pytest.approx(1400.0, rel=0.03)
