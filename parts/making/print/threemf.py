"""3MF by its open core specification: millimetres, one object a print, its name and its plastic.

Core specification 1.x of the 3MF Consortium: a ZIP in the Open Packaging Conventions that holds content types,
one relationship, and the model as XML. The bytes are the same on every run: the ZIP's time stamps are fixed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from parts.making.stl import closed
from parts.making.writing import zipped

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
"""Namespace of the model; the core specification, section on the model part."""
_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
_RELS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"
PLACES = 5
"""Decimals of a coordinate [mm]."""
GREY = "#A0A4A8FF"
"""The specification asks for a colour with every base material."""


@dataclass(frozen=True)
class Object:
    """One print: its name, points (n, 3) [mm], corners of its facets (m, 3), and where it stands [mm]."""

    name: str
    number: str
    points: np.ndarray
    facets: np.ndarray
    at: tuple[float, float]


def threemf_bytes(objects: Sequence[Object], plastic: str, about: Mapping[str, str]) -> bytes:
    """Write prints as one 3MF file.

    Args:
        objects: the prints.
        plastic: name of what they are printed from.
        about: metadata by its name in the specification: Title, Description, ...

    Returns:
        The file.
    """
    files = {
        "[Content_Types].xml": _content_types(),
        "_rels/.rels": _relations(),
        "3D/3dmodel.model": _model(objects, plastic, about),
    }
    return zipped({name: text.encode("utf-8") for name, text in files.items()})


def _content_types() -> str:
    rows = (("rels", _RELS_TYPE), ("model", _MODEL_TYPE))
    inner = "".join(f'<Default Extension="{e}" ContentType="{t}"/>' for e, t in rows)
    return f'{_HEAD}<Types xmlns="{_PACKAGE}/content-types">{inner}</Types>\n'


def _relations() -> str:
    one = f'<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="{_RELATION}"/>'
    return f'{_HEAD}<Relationships xmlns="{_PACKAGE}/relationships">{one}</Relationships>\n'


_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'


def _model(objects: Sequence[Object], plastic: str, about: Mapping[str, str]) -> str:
    lines = [
        _HEAD + f'<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">',
        *(f"<metadata name={quoteattr(k)}>{escape(v)}</metadata>" for k, v in about.items()),
        "<resources>",
        f'<basematerials id="1"><base name={quoteattr(plastic)} displaycolor="{GREY}"/></basematerials>',
    ]
    for i, one in enumerate(objects, 2):
        lines += _object(i, one)
    lines.append("</resources>\n<build>")
    for i, one in enumerate(objects, 2):
        x, y = (f"{float(v):.{PLACES}f}" for v in one.at)
        lines.append(f'<item objectid="{i}" transform="1 0 0 0 1 0 0 0 1 {x} {y} 0"/>')
    return "\n".join([*lines, "</build>", "</model>"]) + "\n"


def _object(number: int, one: Object) -> list[str]:
    points, facets = _as_written(one.points, one.facets)
    return [
        f'<object id="{number}" type="model" pid="1" pindex="0" name={quoteattr(one.name)} '
        f"partnumber={quoteattr(one.number)}>",
        "<mesh><vertices>",
        *(
            f'<vertex x="{x:.{PLACES}f}" y="{y:.{PLACES}f}" z="{z:.{PLACES}f}"/>'
            for x, y, z in points
        ),
        "</vertices><triangles>",
        *(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in facets),
        "</triangles></mesh></object>",
    ]


def _as_written(points: np.ndarray, facets: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The mesh in the decimals written, proved closed in them."""
    return closed(np.round(points, PLACES), facets)
