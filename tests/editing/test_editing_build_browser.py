"""A build changed in Chromium: a hardpoint moved by key, the parts that re-form, written and made with progress."""

from zipfile import ZipFile

import pytest
from browsing import errors, until
from calling import told
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from parts.editing.serving import serving
from parts.editing.shelf import Shelf
from parts.families import families
from parts.report.build_starter import PLAIN
from parts.report.starter import starter

pytestmark = pytest.mark.slow
WAIT = 90.0
FOOT = "hardpoints.strut foot.offset"


def test_a_hardpoint_is_moved_the_part_re_forms_and_the_build_is_made(tmp_path, browser):
    (tmp_path / "build.yaml").write_text("build: new build\nunits: mm\n" + PLAIN)
    first = starter(families()["clevis"], name="HC-160")
    # The pull on the clevis is the strut's own, which turns with the foot.
    (tmp_path / "first.yaml").write_text(first + "build: build.yaml\n")
    with Shelf(tmp_path, tmp_path / "out", "build.yaml") as shelf, serving(shelf) as served:
        work = shelf.work("build.yaml")
        browser.get(served.address)
        told(work, "done")
        spot = f"#plan [data-path='{FOOT}']"
        until(lambda: browser.find_elements(By.CSS_SELECTOR, spot), WAIT)
        assert browser.find_element(By.ID, "reformed").text == "No part re-forms"
        stand = "const one = document.querySelector(arguments[0]); one?.focus(); return one === document.activeElement"
        until(lambda: browser.execute_script(stand, spot), WAIT)
        ActionChains(browser).send_keys(*[Keys.ARROW_LEFT] * 12).perform()
        until(lambda: told(work, "problems")["written"][f"{FOOT}[1]"] == "170", WAIT)
        told(work, "done")
        until(lambda: "1 of 1 parts re-form" in browser.find_element(By.ID, "reformed").text, WAIT)
        until(lambda: f"{FOOT}[1]" in browser.find_element(By.ID, "moved").text, WAIT)
        until(lambda: browser.find_elements(By.CSS_SELECTOR, "#near h3"), WAIT)
        ActionChains(browser).key_down(Keys.CONTROL).send_keys("s").key_up(Keys.CONTROL).perform()
        until(lambda: not work.unsaved)
        until(lambda: browser.find_element(By.ID, "save").text == "Written")
        # What is too near stays said of a file that was only written, also to a page that comes anew.
        assert browser.find_elements(By.CSS_SELECTOR, "#near h3")
        browser.refresh()
        until(lambda: browser.find_element(By.ID, "save").text == "Written")
        assert browser.find_elements(By.CSS_SELECTOR, "#near h3")
        assert "offset: [170, 0, -275]" in work.file.read_text()
        browser.find_element(By.ID, "make").click()
        box = browser.find_element(By.CSS_SELECTOR, "#purposes input[name='packet']")
        if not box.is_selected():
            box.click()
        browser.find_element(By.CSS_SELECTOR, "#purposes button").click()
        until(
            lambda: "making HC-160 (1 of 2)" in (work.board.get("made") or {}).get("lines", ()),
            WAIT,
        )
        until(lambda: work.board.get("made").get("over"), WAIT)
        lines = browser.find_element(By.ID, "lines")
        until(lambda: lines.text.endswith("made"), WAIT)
        assert "HC-160: holds" in lines.text
        solid = tmp_path / "out" / "HC-160" / "HC-160.step"
        # What the shop gets is what was made after the point moved, and the page of the build leads to it.
        packets = sorted((tmp_path / "out" / "new build").glob("*-packet.zip"))
        sent = [
            zipped.read(name)
            for one in packets
            for zipped in [ZipFile(one)]
            for name in zipped.namelist()
            if name.endswith("HC-160-mill.step")
        ]
        assert sent and set(sent) == {solid.with_name("HC-160-mill.step").read_bytes()}
        assert (
            "../HC-160/HC-160.step" in (solid.parents[1] / "new build" / "index.html").read_text()
        )
        shown = [one.text for one in browser.find_elements(By.CSS_SELECTOR, "#files a")]
        assert {one.name for one in packets} <= set(shown)
        assert errors(browser) == []
