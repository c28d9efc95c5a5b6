"""STEP AP242: named product, millimetres, material, and the same bytes on every run."""

from __future__ import annotations

import itertools
import re
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from parts.core.cautions import IN_SHORT
from parts.core.part import Piece

STAMP = "2000-01-01T00:00:00"
"""The header's time: fixed, since a file that says when it was made differs on every run."""

_NOISE = re.compile(r"-?\d\.\d*E-(?:1[6-9]|[2-9]\d|\d{3})")
"""Rounding of the kernel about nothing, which differs from run to run; it stands for zero."""
_GENERATED = re.compile(r"Open CASCADE STEP translator [\d.]+ [\d.]+")
_USE = re.compile(r"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')\d+('(?:[^;']|'[^']*')*;)")
_BREAK = re.compile(r"\n *")


def step_bytes(
    name: str,
    pieces: Sequence[Piece],
    faces: Mapping[str, Sequence[tuple[Any, str]]] | None = None,
    note: str = "",
) -> bytes:
    """Write pieces as one STEP file.

    Args:
        name: product name; that of the assembly where there are several pieces.
        pieces: what to write, in place.
        faces: by the name of a piece, faces of its solid and what they are called: callouts of holes.
        note: what else the header says, as where the set-ups have their zero.

    Returns:
        The file's bytes: AP242, one named product a piece, millimetres, material and density.

    Raises:
        OSError: the kernel could not write.
    """
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.Message import Message, Message_Gravity
    from OCP.STEPCAFControl import STEPCAFControl_Controller, STEPCAFControl_Writer

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
    STEPCAFControl_Controller.Init_s()
    writer = STEPCAFControl_Writer()
    Interface_Static.SetCVal_s("write.step.schema", "AP242DIS")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 1)
    writer.SetNameMode(True)
    writer.SetMaterialMode(True)
    Interface_Static.SetIVal_s("write.stepcaf.subshapes.name", int(bool(faces)))
    if not writer.Transfer(_document(name, pieces, faces or {})):
        raise OSError("the STEP writer could not take the solid")
    _header(writer.ChangeWriter(), name, note)
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "part.step"
        if writer.Write(str(target)) != IFSelect_RetDone:
            raise OSError("the STEP writer could not write the file")
        text = _NOISE.sub("0.", target.read_text("utf-8"))
        return _counted_anew(_GENERATED.sub(name, text)).encode("utf-8")


def _counted_anew(text: str) -> str:
    """The file with the uses of its pieces counted from 1: the kernel counts on through a whole run."""
    count = itertools.count(1)
    # A longer number breaks the line elsewhere, so breaks go too: within an entity they mean nothing.
    return _USE.sub(lambda found: f"{found[1]}{next(count)}{_BREAK.sub('', found[2])}", text)


def _document(
    name: str, pieces: Sequence[Piece], faces: Mapping[str, Sequence[tuple[Any, str]]]
) -> Any:
    from OCP.gp import gp_Trsf  # noqa: F401  (the kernel's location type needs its module loaded)
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.TopLoc import TopLoc_Location
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    materials = XCAFDoc_DocumentTool.MaterialTool_s(document.Main())
    assembly = shapes.NewShape() if len(pieces) > 1 else None
    if assembly is not None:
        _name(assembly, name)
    for piece in pieces:
        label = shapes.AddShape(piece.solid.val().wrapped, False)
        _name(label, f"{name} {piece.name}" if assembly is not None else name)
        for face, callout in faces.get(piece.name, ()):
            _name(shapes.AddSubShape(label, face.wrapped), callout)
        _set_material(materials, label, piece)
        if assembly is not None:
            shapes.AddComponent(assembly, label, TopLoc_Location())
    if assembly is not None:
        shapes.UpdateAssemblies()
    return document


def _name(label: Any, text: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(text))


def _set_material(materials: Any, label: Any, piece: Piece) -> None:
    from OCP.TCollection import TCollection_HAsciiString

    materials.SetMaterial(
        label,
        TCollection_HAsciiString(piece.material.name),
        TCollection_HAsciiString(piece.material.condition),
        piece.material.density * 1e6,  # g/cm^3 from kg/mm^3
        TCollection_HAsciiString("density measure"),
        TCollection_HAsciiString("POSITIVE_RATIO_MEASURE"),
    )


def _header(writer: Any, name: str, note: str) -> None:
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.TCollection import TCollection_HAsciiString

    header = APIHeaderSection_MakeHeader(writer.Model())
    header.SetName(TCollection_HAsciiString(f"{name}.step"))
    header.SetTimeStamp(TCollection_HAsciiString(STAMP))
    header.SetDescriptionValue(1, TCollection_HAsciiString(f"{IN_SHORT} {note}".strip()))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.SetOrganizationValue(1, TCollection_HAsciiString(""))
    header.SetOriginatingSystem(TCollection_HAsciiString("oneoff-parts"))
