"""A DXF document, begun and written so that the same drawing gives the same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any


def begun() -> Any:
    """A document of millimetres with nothing in it."""
    import ezdxf

    with _fixed_dates():
        document = ezdxf.new("R2010", units=4)
    document.header["$MEASUREMENT"] = 1
    return document


def written(document: Any) -> bytes:
    """The file of a document, the same on every run."""
    # The library adds the classes in use from a set, in the order of the run's hash seed.
    classes = document.classes
    classes.add_required_classes(document.dxfversion)
    for name in document.entitydb.dxf_types_in_use():
        classes.add_class(name)
    classes.classes = type(classes.classes)(sorted(classes.classes.items()))
    target = io.StringIO()
    with _fixed_dates():
        document.write(target)
    return target.getvalue().encode("utf-8")


@contextmanager
def _fixed_dates() -> Iterator[None]:
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
