"""A bracket changed in Chromium: typed, stepped, dragged, refused, taken back, written, by keyboard, on a phone."""

import base64
import re
from threading import Event

import pytest
from browsing import errors, faint, until
from calling import told
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from parts.editing.serving import serving
from parts.families import families
from parts.report.starter import starter

pytestmark = pytest.mark.slow
WAIT = 90.0
DOT = "R0lGODlhAQABAIAAAP///wAAACH5BAAAAAAALAAAAAABAAEAAAICRAEAOw=="


@pytest.fixture(scope="module")
def stated():
    return starter(families()["foot-control bracket"], name="HC-160")


@pytest.fixture(scope="module")
def page(handed, browser):
    work, caller = handed
    with serving(caller.served.shelf) as served:
        browser.get(served.address)
        until(lambda: work.board.get("done"), WAIT)
        until(lambda: browser.find_elements(By.CSS_SELECTOR, "#checks li"), WAIT)
        yield browser, work


@pytest.fixture
def hand(page):
    browser, work = page
    while work.board.get("state")["undo"]:
        work.undo()
    work.save(over=True)
    until(lambda: shown(browser, "plate.thickness") == said(work, "plate.thickness"), WAIT)
    return browser, work


def row(browser, path):
    return browser.find_element(By.CSS_SELECTOR, f"[data-field='{path}'] :is(input, select)")


def shown(browser, path):
    return browser.execute_script(
        "const one = document.querySelector(`[data-field='${arguments[0]}'] :is(input, select)`);"
        "return one && one.value",
        path,
    )


def said(work, path):
    return told(work, "problems")["written"][path]


def type_in(browser, path, text):
    one = row(browser, path)
    browser.execute_script(
        "arguments[0].scrollIntoView({block: 'center'}); arguments[0].select()", one
    )
    one.send_keys(text, Keys.ENTER)


def test_a_size_is_typed_as_on_the_bench_and_taken_back_by_key(hand):
    browser, work = hand
    before = work.text
    type_in(browser, "plate.thickness", "5/8 in")
    until(lambda: re.search(r"thickness: 5/8 in", work.text))
    until(
        lambda: (
            "15.875 mm"
            in browser.find_element(By.CSS_SELECTOR, "[data-field='plate.thickness']").text
        ),
        WAIT,
    )
    until(lambda: "plate.thickness" in browser.find_element(By.ID, "moved").text, WAIT)
    browser.find_element(By.TAG_NAME, "body").click()
    ActionChains(browser).key_down(Keys.CONTROL).send_keys("z").key_up(Keys.CONTROL).perform()
    until(lambda: work.text == before)
    until(lambda: shown(browser, "plate.thickness") == said(work, "plate.thickness"), WAIT)
    assert errors(browser) == []


def test_arrow_keys_step_through_what_can_be_bought(hand):
    browser, work = hand
    sizes = told(work, "sizes")
    list_ = sizes["lists"][sizes["of"]["plate.thickness"]]
    now = next(
        one["value"] for one in told(work, "read")["fields"] if one["path"] == "plate.thickness"
    )
    larger = next(text for text, size in list_ if size > now + 0.006)
    row(browser, "plate.thickness").send_keys(Keys.ARROW_UP)
    until(lambda: f"thickness: {larger}" in work.text)


def test_a_thread_that_a_file_names_in_short_steps_to_its_neighbour(hand):
    browser, work = hand
    type_in(browser, "mounts[1].thread", "M8")
    until(
        lambda: "M8x1.25" in row(browser, "mounts[1].thread").find_element(By.XPATH, "../..").text,
        WAIT,
    )
    row(browser, "mounts[1].thread").send_keys(Keys.ARROW_UP)
    # ISO 261 has M9 next in the coarse series.
    until(lambda: re.search(r"thread: M(9|10)x", work.text), WAIT)


def test_a_place_is_dragged_on_the_grid_and_is_one_step(hand):
    browser, work = hand
    told(work, "done")
    steps = work.board.get("state")["steps"]
    spot = next(one for one in browser.find_elements(By.CSS_SELECTOR, "#plan .spot:not(.fixed)"))
    path, name = spot.get_attribute("data-path"), spot.get_attribute("aria-label").split(" at x")[0]
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", spot)
    before = [said(work, f"{path}[{k}]") for k in (1, 2)]
    reach = spot.find_element(By.CSS_SELECTOR, ".reach")
    ActionChains(browser).click_and_hold(reach).move_by_offset(6, 0).move_by_offset(
        6, 4
    ).move_by_offset(5, 4).release().perform()
    until(
        lambda: [told(work, "problems")["written"][f"{path}[{k}]"] for k in (1, 2)] != before, WAIT
    )
    assert browser.find_element(By.ID, "at").text.startswith(f"{name}: x")
    assert work.board.get("state")["steps"] == steps + 1
    moved = [
        float(told(work, "problems")["written"][f"{path}[{k}]"].removesuffix(" mm")) for k in (1, 2)
    ]
    assert all(v == pytest.approx(round(v)) for v in moved)  # on the grid of 1 mm
    if not told(work, "problems")["problems"]:
        until(lambda: browser.find_elements(By.CSS_SELECTOR, "#plan .was"), WAIT)
    work.undo()


def test_what_cannot_be_is_said_at_its_field(hand):
    browser, _ = hand
    type_in(browser, "plate.thickness", "thick")
    until(
        lambda: (
            "`thick`"
            in browser.find_element(By.CSS_SELECTOR, "[data-field='plate.thickness'] p.bad").text
        ),
        WAIT,
    )
    assert row(browser, "plate.thickness").get_attribute("aria-invalid") == "true"
    assert browser.find_element(By.ID, "verdict").text.startswith("Last good part: ")
    browser.find_element(By.ID, "undo").click()
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, ".size.bad"), WAIT)


def test_a_mount_is_put_on_in_the_plan_and_taken_away_by_key(hand):
    browser, work = hand
    before = work.text
    more = browser.find_element(By.CSS_SELECTOR, "#more-places [data-list=mounts]")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", more)
    more.click()
    until(lambda: browser.find_elements(By.CSS_SELECTOR, "[data-path='mounts[4].at']"), WAIT)
    told(work, "done")
    spot = browser.find_element(By.CSS_SELECTOR, "[data-path='mounts[4].at']")
    until(lambda: "mounts[4]" in browser.find_element(By.ID, "moved").text, WAIT)
    browser.execute_script("arguments[0].focus()", spot)
    ActionChains(browser).send_keys(Keys.DELETE).perform()
    until(lambda: work.text == before, WAIT)
    until(lambda: not browser.find_elements(By.CSS_SELECTOR, "[data-path='mounts[4].at']"), WAIT)
    assert errors(browser) == []


def test_purposes_are_picked_one_by_one(hand, monkeypatch):
    browser, work = hand
    asked = []
    monkeypatch.setattr(
        type(work), "make", lambda _, purposes, *, packet: asked.append((purposes, packet))
    )
    browser.find_element(By.ID, "make").click()
    assert all(
        one.is_selected() for one in browser.find_elements(By.CSS_SELECTOR, "#purposes input")
    )
    for one in ("bench", "mill", "flat"):
        browser.find_element(By.CSS_SELECTOR, f"#purposes [name={one}]").click()
    assert not browser.find_element(By.CSS_SELECTOR, "#purposes [name=packet]").is_selected()
    browser.find_element(By.CSS_SELECTOR, "#purposes button").click()
    until(lambda: asked)
    assert asked == [(["print"], False)]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_word_stands_out_from_its_ground(hand, scheme):
    browser, _ = hand
    assert faint(browser, scheme) == (scheme == "dark", [])


def test_keyboard_alone_moves_a_place_and_writes_the_file(hand):
    browser, work = hand
    spot = browser.find_element(By.CSS_SELECTOR, "#plan .spot:not(.fixed)")
    path = spot.get_attribute("data-path")
    x = float(said(work, f"{path}[1]").removesuffix(" mm"))
    here = f"#plan [data-path='{path}'][aria-label*=' at x {x:.2f},']"
    stand = "const one = document.querySelector(arguments[0]); one?.focus(); return one === document.activeElement"
    until(
        lambda: browser.execute_script(stand, here), WAIT
    )  # the plan may be drawn anew at any moment
    ActionChains(browser).send_keys(Keys.ARROW_LEFT).perform()
    until(lambda: float(said(work, f"{path}[1]").removesuffix(" mm")) == x - 1, WAIT)
    # As fast as a key repeats: no step is lost, and none overtakes another.
    ActionChains(browser).send_keys(*[Keys.ARROW_LEFT] * 12, *[Keys.ARROW_RIGHT] * 8).perform()
    until(lambda: float(said(work, f"{path}[1]").removesuffix(" mm")) == x - 5, WAIT)
    ActionChains(browser).key_down(Keys.CONTROL).send_keys("s").key_up(Keys.CONTROL).perform()
    until(lambda: not work.unsaved)
    assert work.file.read_text() == work.text
    browser.refresh()
    until(lambda: shown(browser, f"{path}[1]") == said(work, f"{path}[1]"), WAIT)


def test_a_conflict_is_asked_about(hand):
    browser, work = hand
    type_in(browser, "title", "Bracket, to be tried")
    until(lambda: "title: Bracket, to be tried" in work.text)
    assert told(work, "problems")["problems"] == []
    other = work.file.read_text() + "# by hand\n"
    work.file.write_text(other)
    browser.find_element(By.ID, "save").click()
    until(lambda: "Which is to stand?" in browser.find_element(By.ID, "disk").text)
    assert work.file.read_text() == other
    browser.find_element(By.CSS_SELECTOR, "#disk button").click()
    until(lambda: work.text == other)


@pytest.mark.parametrize("wide", [390, 820, 1440])
def test_no_width_scrolls_sideways_and_targets_are_large(hand, wide):
    browser, _ = hand
    try:
        browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride",
                                {"width": wide, "height": 844, "deviceScaleFactor": 1, "mobile": False})  # fmt: skip
        over, small, low = browser.execute_script("""
          const seen = (one) => one.getClientRects().length;
          const small = [...document.querySelectorAll('button, select, input[type=text], #plan .reach')].filter(seen)
            .map((one) => [one.id || one.className.baseVal || one.className, one.getBoundingClientRect().height])
            .filter(([name, h]) => h < 43.5 && name !== 'to');
          const letters = [...document.querySelectorAll('#plan text, .size *, #checks *')].filter(seen)
            .map((one) => parseFloat(getComputedStyle(one).fontSize) * (one.getScreenCTM ? one.getScreenCTM().a : 1));
          return [document.documentElement.scrollWidth - innerWidth, small, Math.min(...letters)];""")
        assert over <= 0 and small == [] and low >= 11
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_a_finished_piece_is_typed_marked_judged_and_kept(hand):
    """A plate 0.4 mm thin is marked as soon as it is typed: ISO 2768-m allows 0.2 mm."""
    browser, work = hand
    told(work, "sheet")
    browser.find_element(By.CSS_SELECTOR, "#made-box summary").click()
    found = By.CSS_SELECTOR, "#measured-rows [data-name='thickness of the plate']"
    until(lambda: browser.find_elements(*found), WAIT)
    thick = browser.find_element(*found)
    row = thick.find_element(By.XPATH, "./ancestor::tr")
    low = float(row.find_elements(By.TAG_NAME, "td")[1].text)
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", thick)
    thick.send_keys(f"{low + 0.1:.3f}")
    assert "out" not in (row.get_attribute("class") or "").split()
    thick.clear()
    thick.send_keys(f"{low - 0.2:.3f} mm")
    assert row.get_attribute("class") == "out" and "0.200 below" in row.text
    typed = {
        "who": "own shop",
        "when": "2026-11-14",
        "heat": "A-1",
        ".torque [name=of]": "mount 1",
        "put_on": "48 N*m",
    }
    for name, text in typed.items():
        found_ = name if name.startswith(".") else f"#measured [name={name}]"
        browser.find_element(By.CSS_SELECTOR, found_).send_keys(text)
    keep = browser.find_element(By.ID, "keep")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", keep)
    keep.click()
    until(lambda: browser.find_elements(By.ID, "kept"), WAIT)
    said = browser.find_element(By.ID, "judged").text
    assert "as made" in said and "Out of limits" in said and "what got worse first" in said
    assert "made/HC-160-A.yaml" in said
    kept = (work.folder / "made" / "HC-160-A.yaml").read_text()
    assert all(one in kept for one in ("own shop", "A-1", "48 N*m", "HC-160-A-sheet-1.csv"))
    keep.click()
    until(lambda: browser.find_elements(By.ID, "keep-over"), WAIT)
    assert faint(browser, "light")[1] == [] == faint(browser, "dark")[1]
    browser.refresh()  # what was kept is there again
    until(lambda: browser.find_elements(By.CSS_SELECTOR, "#kept-pieces button"), WAIT)

    def value(name):
        return browser.find_element(By.CSS_SELECTOR, name).get_property("value")

    until(lambda: value(found[1]) == f"{low - 0.2:.5f}", WAIT)
    asked = ("[name=who]", ".metal [name=heat]", ".torque [name=of]", "[name=put_on]")
    assert [value(f"#measured {one}") for one in asked] == ["own shop", "A-1", "mount 1", "48 N*m"]
    out = browser.find_element(By.CSS_SELECTOR, "#measured tr.out")
    assert "0.200 below" in out.get_property("textContent")
    assert [one["message"] for one in errors(browser) if "409" not in one["message"]] == []


def test_a_part_is_begun_from_the_shelf_and_its_key_leads_to_its_sizes(page, monkeypatch):
    browser, _ = page
    errors(browser)  # what came of the conflict above
    drawn = Event()

    def picture(self, family):
        drawn.wait(WAIT)
        return base64.b64decode(DOT)

    monkeypatch.setattr("parts.editing.shelf.Shelf.picture", picture)
    browser.get(browser.current_url.partition("/file/")[0])
    number = browser.find_element(By.ID, "number")
    assert number.get_attribute("value") == "HC-161"  # the next of the folder
    # A part is begun at once, though no picture is drawn yet.
    button = browser.find_element(By.CSS_SELECTOR, "[data-family='spacer']")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
    button.click()
    until(lambda: browser.current_url.endswith("/file/hc-161.yaml/"), WAIT)
    drawn.set()
    until(lambda: browser.find_elements(By.CSS_SELECTOR, "#key tspan.known"), WAIT)
    name = browser.find_element(By.CSS_SELECTOR, "#key tspan.known")
    browser.execute_script(
        "arguments[0].dispatchEvent(new MouseEvent('click', {bubbles: true}))", name
    )
    focused = browser.switch_to.active_element
    assert focused.get_attribute("id") == f"size {name.text}"
    assert browser.find_element(By.CSS_SELECTOR, "#key tspan.lit").text == name.text
    until(
        lambda: browser.execute_script("return Boolean(document.querySelector('.solid.in-3d'))"),
        WAIT,
    )
    assert errors(browser) == []
