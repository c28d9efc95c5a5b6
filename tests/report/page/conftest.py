"""The browser, and the page of a module opened in it."""

import pytest
from browsing import afresh, browser, drawn, until

__all__ = ["browser"]


@pytest.fixture
def opened(browser, page):
    """The page of a module, drawn once, with nothing kept from before."""
    afresh(browser, page)
    until(lambda: drawn(browser) > 0)
    return browser


@pytest.fixture
def looked_at(request, browser):
    """The page for tests that change nothing of it: the one that is open already, where the last test left it so."""
    if not browser.execute_script("return Boolean(window.untouched)"):
        request.getfixturevalue("opened")
        browser.execute_script("window.untouched = true")
    return browser
