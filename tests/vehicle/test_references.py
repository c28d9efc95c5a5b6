"""What hangs on what: held against a matrix of reachability, and a rebuild against both."""

import numpy as np
import pytest
from builds import CLEVIS
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.folders.build import digests
from parts.vehicle.build import Build
from parts.vehicle.file.references import CircularReference, in_order


@st.composite
def graphs(draw, least=1, most=8):
    """References without circles: each name only to earlier ones."""
    n = draw(st.integers(least, most))
    return {i: draw(st.sets(st.integers(0, i - 1), max_size=3)) if i else set() for i in range(n)}


def reachable(graph):
    """reach[i, j]: i hangs on j, by powers of the matrix of references."""
    n = len(graph)
    step = np.eye(n, dtype=bool)
    for i, others in graph.items():
        for j in others:
            step[i, j] = True
    reach = step
    for _ in range(n):
        reach = (reach.astype(int) @ step.astype(int)) > 0
    return reach


@given(graphs(most=12), st.randoms(use_true_random=False))
def test_what_hangs_on_others_comes_after_them(graph, random):
    named = {str(i): [str(j) for j in others] for i, others in graph.items()}
    keys = list(named)
    random.shuffle(keys)
    named = {key: named[key] for key in keys}
    order = in_order(named)
    assert sorted(order) == sorted(named)
    assert all(order.index(j) < order.index(i) for i, others in named.items() for j in others)


@pytest.mark.parametrize(
    ("references", "circle"),
    [
        ({"a": ["a"]}, ("a", "a")),
        ({"x": [], "a": ["b"], "b": ["c"], "c": ["a"]}, ("a", "b", "c", "a")),
        ({"x": ["b"], "a": ["b"], "b": ["a"]}, ("b", "a", "b")),
    ],
)
def test_a_circle_is_told_with_everything_in_it(references, circle):
    with pytest.raises(CircularReference) as caught:
        in_order(references)
    assert caught.value.circle == circle


def test_a_long_chain_needs_no_deep_stack():
    n = 20_000
    assert len(in_order({str(i): [str(i + 1)] for i in range(n)})) == n + 1


def written(folder, points, parts, moved=None):
    """A build with hardpoints along x, some set off from others, and clevises that take lengths from them.

    Part i takes its length from a pair of hardpoints, or from the part before it that it refers to.
    """
    lines = ["build: random", "units: mm", "hardpoints:"]
    for i, others in points.items():
        extra = 1.0 if i == moved else 0.0
        if others:
            # 0.01 i: no two offsets alike, so that what follows a point never hides its movement.
            lines.append(f"  p{i}: {{from: p{min(others)}, offset: [{0.01 * i + extra}, 0, 0]}}")
        else:
            lines.append(f"  p{i}: {{at: [{0.02 * i + extra}, 0, 0]}}")
    lines += ["  far: {at: [-32, 0, 0]}", "parts:"]
    for i, (_, owner) in parts.items():
        lines.append(f"  - file: q{i}.yaml")
        form = f"{{of: Q{owner}, value: shank.length}}"
        if owner is None:
            form = f"{{distance: [far, p{parts[i][0]}]}}"
        (folder / f"q{i}.yaml").write_text(CLEVIS.format(name=f"Q{i}", length=form))
    (folder / "build.yaml").write_text("\n".join(lines) + "\n")
    return Build(folder / "build.yaml")


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(points=graphs(most=5), links=graphs(most=5), data=st.data())
def test_a_rebuild_makes_exactly_what_hangs_on_the_point_that_moved(tmp_path, points, links, data):
    parts = {
        i: (data.draw(st.sampled_from(sorted(points))), min(others) if others else None)
        for i, others in links.items()
    }
    point = data.draw(st.sampled_from(sorted(points)))
    before = digests(written(tmp_path, points, parts))
    after = digests(written(tmp_path, points, parts, moved=point))
    # Only the first reference of each is taken, in file and expectation alike.
    roots = {i: i for i in parts}
    for i in parts:
        while parts[roots[i]][1] is not None:
            roots[i] = parts[roots[i]][1]
    first = {i: {min(others)} if others else set() for i, others in points.items()}
    reach = reachable(first)
    expected = {f"Q{i}" for i in parts if reach[parts[roots[i]][0], point]}
    assert {name for name in before if before[name] != after[name]} == expected
