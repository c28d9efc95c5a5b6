"""The page in a real browser: it draws, turns and prints. Chromium, headless, without a GPU."""

import base64
import io
from dataclasses import replace

import numpy as np
import pypdf
import pytest
from browsing import afresh, after, differ, drawn, errors, faint, pixels, until
from parts_shown import fork_shown

from parts.report.page.index import folder_page
from parts.report.page.part import part_page


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    file = tmp_path_factory.mktemp("page") / "index.html"
    file.write_bytes(part_page(fork_shown()))
    return file.as_uri()


def test_it_opens_from_disk_without_errors_and_fetches_nothing(opened):
    assert errors(opened) == []
    assert opened.execute_script("return performance.getEntriesByType('resource').length") == 0
    assert opened.title == 'HC-150 <script>alert(1)</script> & "fork"'
    heading = opened.execute_script("return document.querySelector('h1').textContent")
    assert "<script>alert(1)</script>" in heading


def test_the_part_is_drawn_and_turns_by_keys_and_pointer(opened):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    canvas = opened.find_element(By.TAG_NAME, "canvas")
    first = pixels(opened)
    covered = np.mean(np.any(first < 235, axis=2))
    assert 0.05 < covered < 0.8  # the part fills a good share of the view, and paper shows round it
    assert len(np.unique(first.reshape(-1, 3), axis=0)) > 50  # shaded, not one flat colour
    turned = after(opened, lambda: canvas.send_keys(Keys.ARROW_LEFT))
    assert differ(first, turned) > 0.02
    back = after(opened, lambda: canvas.send_keys(Keys.ARROW_RIGHT))
    assert differ(first, back) < 0.001
    from selenium.webdriver import ActionChains

    drag = ActionChains(opened, duration=0).click_and_hold(canvas).move_by_offset(90, 0).release()
    dragged = after(opened, drag.perform)
    assert differ(first, dragged) > 0.02
    reset = after(opened, lambda: canvas.send_keys(Keys.HOME))
    assert differ(first, reset) < 0.001
    said = "return document.querySelector('#viewer [aria-live]').textContent"
    until(lambda: opened.execute_script(said).startswith("Seen from"))


def test_buttons_look_from_every_side_and_critical_sections_can_be_hidden(opened):
    from selenium.webdriver.common.by import By

    def press(one):
        return after(opened, lambda: opened.execute_script("arguments[0].click()", one))

    opened.execute_script("document.querySelector('#viewer details').open = true")
    views = opened.find_elements(By.CSS_SELECTOR, "#viewer button[data-view]")
    names = [one.text for one in views]
    assert {"front", "top", "right", "bottom"} < set(names)
    front, top = (press(views[names.index(name)]) for name in ("front", "top"))
    assert differ(front, top) > 0.02

    def red(shot):
        return int(np.sum((shot[..., 0] > 150) & (shot[..., 1] < 60)))

    box = opened.find_element(By.CSS_SELECTOR, "input[data-mark]")
    assert red(top) > 20 and red(press(box)) == 0


def test_sheets_unfold_by_link_and_all_at_once(opened):
    opened.execute_script("location.hash = 'check-3'")
    until(lambda: opened.execute_script("return document.getElementById('check-3').open"))
    opened.execute_script("document.getElementById('unfold').click()")
    assert opened.execute_script("return document.getElementById('checks').open")
    folded = (
        "return document.querySelectorAll(':is(details.check, details.sheet):not([open])').length"
    )
    assert opened.execute_script(folded) == 0


SCREENS = {390: (844, 12_000), 820: (1180, 6000), 1440: (900, 6000)}
"""Width, height and the longest page before anything is unfolded [px]."""


@pytest.fixture(scope="module", params=list(SCREENS))
def screen(request, browser, page):
    """The page on a phone, a tablet and a desk, loaded once for all that is looked at there: width and browser."""
    afresh(browser, page)
    until(lambda: drawn(browser) > 0)
    high, _ = SCREENS[request.param]
    metrics = {"width": request.param, "height": high, "deviceScaleFactor": 1, "mobile": False}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
    yield request.param, browser
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_the_first_screen_holds_verdict_part_checks_and_shops(screen):
    width, page = screen
    high, longest = SCREENS[width]
    script = """
      const low = (one) => document.querySelector(one).getBoundingClientRect().bottom;
      return [document.documentElement.scrollWidth, document.documentElement.scrollHeight,
              low('.verdict'), low('canvas'), low('ol.least'), low('ul.cards')];
    """
    across, tall, *lows = page.execute_script(script)
    assert across <= width and tall <= longest
    assert max(lows) <= high, lows


def test_unfolded_nothing_scrolls_sideways_on_a_phone_but_charts_which_stay_legible(screen):
    width, page = screen
    script = """
      for (const one of document.querySelectorAll('details.fold')) one.open = true;
      const wide = [...document.querySelectorAll('.wide')].filter((one) => one.checkVisibility());
      const words = [...document.querySelectorAll('svg[role=img] text')].filter((one) => one.checkVisibility());
      const high = (one) => {
        const { b, d } = one.getScreenCTM();
        return parseFloat(getComputedStyle(one).fontSize) * Math.hypot(b, d);
      };
      return [document.documentElement.scrollWidth, wide.filter((one) => one.scrollWidth > one.clientWidth + 1)
                .map((one) => one.getAttribute('aria-label')), Math.min(...words.map(high))];
    """
    across, scrolling, smallest = page.execute_script(script)
    assert across <= width and smallest >= 11.0
    assert scrolling == [] or width > 390


def test_what_is_touched_is_large_enough(screen):
    """44 px: WCAG 2.2, success criterion 2.5.5; a link in a sentence is exempt there."""
    width, page = screen
    script = """
      for (const one of document.querySelectorAll('details')) one.open = true;
      const touched = 'button, summary, select, ol.least a, ul.cards a, .tools label';
      return [...document.querySelectorAll(innerWidth > 390 ? touched : touched + ', .rows a')]
        .filter((one) => one.checkVisibility()).map((one) => [one.getBoundingClientRect().height, one.textContent])
        .filter(([high]) => high < 43.5);
    """
    small = page.execute_script(script)
    assert small == [], width


@pytest.mark.parametrize("kind", ["light", "dark"])
def test_text_stands_out_from_its_ground(looked_at, kind):
    assert faint(looked_at, kind) == (kind == "dark", [])


def test_a_table_stays_a_table_for_a_screen_reader_on_a_phone(looked_at):
    metrics = {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": False}
    looked_at.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
    try:
        looked_at.execute_script("document.getElementById('loads').open = true")
        tree = looked_at.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    finally:
        looked_at.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    roles = [one["role"]["value"] for one in tree if "role" in one]
    assert {"table", "row", "rowheader", "cell"} <= set(roles)


def test_it_prints(opened):
    """On A4: name, verdict and cautions, the section at its scale, no buttons and no empty canvas."""
    options = {
        "paperWidth": 8.27,
        "paperHeight": 11.69,
        "preferCSSPageSize": True,
        "printBackground": False,
    }
    data = base64.b64decode(opened.execute_cdp_cmd("Page.printToPDF", options)["data"])
    printed = [sheet.extract_text() for sheet in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert "HC-150" in printed[0] and "holds" in printed[0]
    whole = " ".join(" ".join(printed).split())
    assert "Cautions" in whole and "Section 1" in whole and "on paper" in whole
    assert (
        "Unfold all" not in whole and "closer" not in whole and "In three dimensions" not in whole
    )
    assert all(text.strip() for text in printed)  # no empty sheet


def test_every_control_is_reached_by_keyboard_and_shows_it(opened):
    script = """
      for (const one of document.querySelectorAll('details')) one.open = true;
      const seen = [...document.querySelectorAll('a[href], button, input:enabled, summary, canvas, [tabindex]')]
        .filter((one) => one.checkVisibility());
      return seen.map((one) => { one.focus(); return document.activeElement === one && one.tabIndex >= 0; });
    """
    reached = opened.execute_script(script)
    assert len(reached) > 40 and all(reached)


@pytest.mark.slow
def test_the_page_of_the_folder_opens_too(browser, tmp_path):
    file = tmp_path / "index.html"
    file.write_bytes(folder_page(tmp_path))
    browser.get(file.as_uri())
    assert errors(browser) == []


def test_a_long_bar_that_is_away_at_first_leaves_the_part_its_size(tmp_path, browser):
    ends = np.array([[0.0, 0.0, 0.0], [4.0, 0.0, 0.0], [0.0, 4.0, 0.0], [0.0, 0.0, 1500.0]])
    bar = ends, np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]])
    shown = replace(fork_shown(), hardware={"bar": (bar, np.array([0.0, 0.0, 1500.0]))})
    file = tmp_path / "index.html"
    file.write_bytes(part_page(shown))
    browser.get(file.as_uri())
    until(lambda: drawn(browser) > 0)
    assert np.mean(np.any(pixels(browser) < 235, axis=2)) > 0.05
    slide = "const s = document.querySelector('[name=apart]'); s.value = s.max; s.dispatchEvent(new Event('input'))"
    far = after(browser, lambda: browser.execute_script(slide))
    assert np.mean(np.any(far < 235, axis=2)) < 0.05  # the whole bar is in view
    assert errors(browser) == []
