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
