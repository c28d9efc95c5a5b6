"""A part that is opened and served."""

import pytest
from browsing import browser
from calling import Caller

from parts.editing.serving import serving
from parts.editing.shelf import Shelf

__all__ = ["browser"]


@pytest.fixture(scope="module")
def handed(tmp_path_factory, stated):
    """The file of a module's text, opened: its work, and a caller who was let in."""
    folder = tmp_path_factory.mktemp("hand")
    file = folder / "part.yaml"
    file.write_text(stated)
    with Shelf(folder, folder / "out", file.name) as shelf, serving(shelf) as served:
        yield shelf.work(file.name), Caller(served)
