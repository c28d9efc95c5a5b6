"""What a reader does with a part in three dimensions: arrows, paint, cut, ruler, and the drawing opened large."""

from dataclasses import replace

import numpy as np
import pytest
from browsing import after, differ, errors, pixels, until
from parts_shown import fork_shown

from parts.core.check import use_of
from parts.making.faces import faced
from parts.report.page.mesh import facing_of
from parts.report.page.painted import Painted, finer
from parts.report.page.part import part_page
from parts.report.page.tools import acting

SHEET = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 30"><path d="M0 0L40 30" stroke="#000"/></svg>'

KEY = b"""<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 30"><title>key</title>
<g id="text"><text x="5" y="20" font-size="4">ears.depth + ears.floor_thickness</text></g></svg>
"""


def area(points, corners):
    return np.linalg.norm(facing_of(points, corners), axis=1).sum()


def test_finer_triangles_cover_the_same_and_share_their_edges():
    (points, corners), *_ = fork_shown().meshes.values()
    small, pieces, parent = finer(points, corners, 3.0)
    assert len(pieces) > len(corners) and np.isclose(area(small, pieces), area(points, corners))
    sides = np.concatenate([pieces[:, [0, 1]], pieces[:, [1, 2]], pieces[:, [2, 0]]])
    assert np.linalg.norm(small[sides[:, 0]] - small[sides[:, 1]], axis=1).max() <= 3.0
    # Closed as before: every side is run along once each way.
    assert {tuple(s) for s in sides} == {tuple(s[::-1]) for s in sides}
    whole = facing_of(points, corners)
    summed = np.zeros_like(whole)
    np.add.at(summed, parent, facing_of(small, pieces))
    assert np.allclose(summed, whole)


def test_the_paint_at_the_critical_fibre_is_what_its_check_uses():
    result = fork_shown().made.result
    painted = Painted(result)
    for k, worst in enumerate(result.criticals):
        span, peak = worst.span, worst.stress
        at = span.place(worst.t) + np.array([peak.y, peak.z]) @ np.asarray(span.axes, float)[1:]
        known, use = painted.of(span.piece, at[None])
        checks = [one for one in result.checks if one.mode == "combined stress"]
        own = max(use_of(one) for one in checks if one.load_case == worst.case.name)
        assert known.all() and use[k, 0] == pytest.approx(own, rel=0.02)


def test_no_place_is_painted_beyond_the_section_that_was_solved():
    result = fork_shown().made.result
    (points, _), *_ = fork_shown().meshes.values()
    known, use = Painted(result).of("part", points)
    assert 0.5 < known.mean() <= 1.0
    for k, case in enumerate(result.part.loads):
        own = [
            one
            for one in result.checks
            if one.mode == "combined stress" and one.load_case == case.name
        ]
        assert 0.0 < use[k].max() <= max(map(use_of, own)) + 1e-9
        assert use[k, known].min() < 0.5 * use[k].max()


def test_faces_of_a_mesh_lie_where_the_solid_has_them():
    found = faced(fork_shown().made.result.part.pieces[0].solid, 0.05, 0.2)
    assert len(found.face) == len(found.corners)
    bores = {round(2 * one.radius, 3) for one in found.faces if one.kind == "round"}
    assert 9.525 in bores  # 3/8 in
    for i, one in enumerate(found.faces):
        points = found.points[np.unique(found.corners[found.face == i])]
        off = points - np.array(one.at) if one.kind else np.zeros((1, 3))
        if one.kind == "flat":
            assert np.abs(off @ one.way).max() < 1e-6
        elif one.kind == "round":
            across = off - np.outer(off @ one.way, one.way)
            assert np.allclose(np.linalg.norm(across, axis=1), one.radius, atol=1e-6)


def test_arrows_stand_for_every_load_and_all_that_holds():
    shown = fork_shown()
    part = shown.made.result.part
    (landing, _) = acting(shown.entry["balance"], part)
    assert landing["name"] == "landing"
    loads = [act for act in landing["acts"] if act[0] == 0]
    assert loads[0][1:4] == ["pin", [0.0, 0.0, 0.0], [-2550.0, 150.0, 0.0]]
    assert np.allclose(np.sum([act[3] for act in landing["acts"]], axis=0), 0.0, atol=0.1)
    bare = acting([], part)
    assert [act[0] for act in bare[0]["acts"]] == [0]


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    file = tmp_path_factory.mktemp("tools") / "index.html"
    shown = fork_shown()
    files = {**shown.files, "HC-150-drawing.svg": SHEET}
    file.write_bytes(part_page(replace(shown, files=files, key=KEY)))
    return file.as_uri()


def words(browser):
    return browser.execute_script(
        "return [...document.querySelectorAll('svg.names text')]"
        ".filter((one) => one.getAttribute('display') !== 'none').map((one) => one.textContent)"
    )


def put(browser, control, value):
    """A control set as a hand sets it, once the viewer has drawn after it."""
    script = """
      const one = document.querySelector(arguments[0]);
      if (one.type === 'checkbox') one.checked = arguments[1]; else one.value = arguments[1];
      for (const kind of ['input', 'change']) one.dispatchEvent(new Event(kind));
    """
    return after(browser, lambda: browser.execute_script(script, control, value))


def test_the_loads_of_the_chosen_case_stand_on_the_part(opened):
    put(opened, "select[name=case]", "0")
    # 2550 and 150 N at right angles; what holds is as large.
    assert {"2554 N pin", "2554 N shank thread"} < set(words(opened))
    put(opened, "select[name=case]", "1")
    assert not any(one.startswith("2554 N") for one in words(opened))
    arrows = "return document.querySelectorAll('svg.names .arrow').length"
    assert opened.execute_script(arrows) >= 2
    put(opened, "input[name=arrows]", False)
    assert opened.execute_script(arrows) == 0 and words(opened) == []


def test_paint_shows_and_the_reader_chooses_its_numbers(opened):
    plain = put(opened, "input[name=arrows]", False)
    painted = put(opened, "input[name=paint]", True)
    assert differ(plain, painted) > 0.02
    bounds = "return [...document.querySelectorAll('.scale text')].map((one) => one.textContent)"
    assert opened.execute_script(bounds) == [str(10 * k) for k in range(11)]
    darker = put(opened, "input[name=most]", "20")
    assert opened.execute_script(bounds)[-1] == "20" and differ(painted, darker) > 0.02
    # Readable in grey: from light to dark.
    inks = opened.execute_script(
        "return [...document.querySelectorAll('.scale rect')].map((one) => one.getAttribute('fill'))"
    )
    grey = [
        np.array([0.2126, 0.7152, 0.0722]) @ [int(one[i : i + 2], 16) for i in (1, 3, 5)]
        for one in inks
    ]
    assert np.all(np.diff(grey) < -4.0)


def test_a_plane_slides_through_it(opened):
    whole = put(opened, "input[name=arrows]", False)
    half = put(opened, "select[name=across]", "1")
    assert differ(whole, half) > 0.02
    told = opened.execute_script("return document.querySelector('output').textContent")
    assert told.startswith("y ") and told.endswith(" in)")
    assert differ(half, put(opened, "input[name=slide]", "950")) > 0.01
    assert differ(whole, put(opened, "select[name=across]", "")) < 0.001


TOUCH = """
  const box = document.getElementById('viewer'), canvas = box.querySelector('canvas');
  const edge = canvas.getBoundingClientRect(), [x, y] = box.viewer.see(arguments[0]);
  for (const kind of ['pointerdown', 'pointerup']) {
    const at = { clientX: edge.left + x, clientY: edge.top + y, pointerId: 1, bubbles: true };
    canvas.dispatchEvent(new PointerEvent(kind, at));
  }
  return box.dataset.measured;
"""


def test_the_ruler_measures_between_faces_and_holes(opened):
    """From the open end of the throat: its floor lies 24 mm from the pin, as the file states."""
    put(opened, "input[name=ruler]", True)
    opened.execute_script("HTMLElement.prototype.setPointerCapture = () => {}")
    opened.execute_script("document.querySelector('#viewer details').open = true")
    right = "document.querySelector('button[data-view=right]').click()"
    after(opened, lambda: opened.execute_script(right))
    assert opened.execute_script(TOUCH, [-24.0, 0.0, 0.0]) == "a flat face; touch another"
    # Half way up the nose of an ear, which is as round as the ear is wide: 20 mm.
    throat, thickness = 12.8, 6.35
    tip = [10.0, 0.0, (throat + thickness) / 2.0]
    told = opened.execute_script(TOUCH, tip)
    assert told == "24.00 mm (0.945 in) from face to axis"
    until(lambda: told in words(opened))
    assert opened.execute_script(TOUCH, tip) == "⌀ 20.00 mm (0.787 in); touch another"
    assert errors(opened) == []


def test_a_drawing_opens_large_and_comes_closer_by_wheel_and_keys(opened):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    opened.execute_script("document.getElementById('drawing').open = true")
    opened.execute_script("document.querySelector('a.large').click()")
    dialog = opened.find_element(By.CSS_SELECTOR, "dialog[open]")
    assert dialog.rect["width"] >= 0.98 * opened.execute_script("return innerWidth")
    wheel = "arguments[0].dispatchEvent(new WheelEvent('wheel', { deltaY: -90, clientX: 50, clientY: 50 }))"
    opened.execute_script(wheel, dialog)
    assert float(dialog.get_attribute("data-zoom")) > 1.3
    dialog.find_element(By.TAG_NAME, "button").send_keys("0")
    assert float(dialog.get_attribute("data-zoom")) == 1.0
    two = """
      const image = document.querySelector('dialog img');
      image.setPointerCapture = () => {};
      const at = (kind, id, x) => image.dispatchEvent(new PointerEvent(kind,
        { pointerId: id, clientX: x, clientY: 100, bubbles: true, cancelable: true }));
      at('pointerdown', 1, 100); at('pointerdown', 2, 200); at('pointermove', 2, 300);
    """
    opened.execute_script(two)
    assert float(dialog.get_attribute("data-zoom")) == pytest.approx(2.0, abs=0.01)
    dialog.find_element(By.TAG_NAME, "button").send_keys(Keys.ESCAPE)
    until(lambda: not opened.execute_script("return document.querySelector('dialog').open"))
    assert errors(opened) == [] and len(pixels(opened)) > 0


def test_point_at_a_name_in_the_key_and_its_row_lights_up(opened):
    opened.execute_script("document.getElementById('dimensions').open = true")
    script = """
      const word = document.querySelector('svg.key text');
      const lit = () => [...document.querySelectorAll('tr.lit th')].map((one) => one.textContent);
      word.dispatchEvent(new PointerEvent('pointerenter'));
      const over = lit();
      word.dispatchEvent(new PointerEvent('pointerleave'));
      const row = [...document.querySelectorAll('#dimensions tr')]
        .find((one) => one.textContent.startsWith('ears.depth'));
      row.dispatchEvent(new PointerEvent('pointerenter'));
      return [over, lit(), word.classList.contains('lit')];
    """
    over, back, lit = opened.execute_script(script)
    assert over == ["ears.depth", "ears.floor_thickness"] and back == ["ears.depth"] and lit
    assert errors(opened) == []
