"""Looking at a page in Chromium, headless, without a GPU: waiting for it, and what its canvas shows."""

import io
import shutil
import time

import numpy as np
import pytest
from PIL import Image

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
WAIT = 30.0
"""Longest wait for the browser [s]; it draws in software, on a machine that may be busy."""
OPTIONS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
    "--disable-dev-shm-usage", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--window-size=1000,700",
)  # fmt: skip


CONTRAST = """
  const canvas = document.createElement("canvas").getContext("2d", {willReadFrequently: true});
  const rgb = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data];
  };
  const linear = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const light = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, share, i) => sum + share * linear(c[i] / 255), 0);
  const ground = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour[3] > 250) return colour;
    }
    return rgb("white");
  };
  const low = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const said = walker.currentNode.data.trim(), one = walker.currentNode.parentElement;
    if (!said || !one.getClientRects().length || one.closest("svg, script, :disabled")) continue;
    const [a, b] = [rgb(getComputedStyle(one).color), ground(one)].map(light).sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05);
    if (ratio < 4.5) low.push([said.slice(0, 30), one.className, ratio]);
  }
  return [ground(document.body).slice(0, 3), low];
"""


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    """One browser for all tests of a module."""
    if not (CHROMIUM and DRIVER):
        pytest.skip("chromium and chromedriver are not installed; .ci/run installs them")
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    options.binary_location = CHROMIUM
    for one in (*OPTIONS, f"--user-data-dir={tmp_path_factory.mktemp('chromium')}"):
        options.add_argument(one)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    found = webdriver.Chrome(options=options, service=webdriver.ChromeService(DRIVER))
    yield found
    found.quit()


def afresh(browser, page):
    """A page with nothing kept from before; one that is shown already is loaded once more."""
    if browser.current_url == page:
        browser.execute_script("sessionStorage.clear()")
    browser.get(page)


def until(true, seconds=WAIT):
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, f"still waiting after {seconds} s"
        time.sleep(0.03)


def drawn(browser):
    """How often the viewer has drawn."""
    script = (
        "const v = document.getElementById('viewer'); return Number(v ? v.dataset.drawn || 0 : 0)"
    )
    return int(browser.execute_script(script))


def pixels(browser):
    """What the canvas shows, without its edge: a focused canvas wears a frame."""
    from selenium.webdriver.common.by import By

    canvas = browser.find_element(By.TAG_NAME, "canvas")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", canvas)
    shot = canvas.screenshot_as_png
    return np.asarray(Image.open(io.BytesIO(shot)).convert("RGB"), int)[8:-8, 8:-8]


def after(browser, act):
    """What the canvas shows once it has drawn after an act."""
    before = drawn(browser)
    act()
    until(lambda: drawn(browser) > before)
    return pixels(browser)


def differ(one, other):
    """Share of pixels that differ."""
    return float(np.mean(np.abs(one - other).max(axis=2) > 16))


def errors(browser):
    """What the console holds, without what the driver says of its own speed in software."""
    return [one for one in browser.get_log("browser") if "GL Driver Message" not in one["message"]]


def faint(browser, scheme):
    """Whether a page's ground is dark, and the words with less than 4.5 : 1 to their ground (WCAG 2.2, 1.4.3).

    What is disabled need not have it.
    """
    media = {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", media)
    try:
        ground, low = browser.execute_script(CONTRAST)
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    return sum(ground) < 3 * 128, low
