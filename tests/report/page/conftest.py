"""One browser for all tests of a module."""

import pytest
from browsing import CHROMIUM, DRIVER, OPTIONS, drawn, until


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
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


@pytest.fixture
def opened(browser, page):
    """The page of a module, drawn once, with nothing kept from before."""
    browser.get(page)
    browser.execute_script("sessionStorage.clear()")
    browser.get(page)
    until(lambda: drawn(browser) > 0)
    return browser
