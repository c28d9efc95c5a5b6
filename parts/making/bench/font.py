"""The fonts of sheets: those that every reader of PDF has, and one to embed for letters beyond Latin."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path


def font_of(text: str, bold: bool) -> str:
    """The font of a text, by the name that it is registered under.

    Args:
        text: one line.
        bold: whether it is bold.

    Raises:
        MakeError: the text has letters beyond Latin, and no font with them is installed.
    """
    try:
        text.encode("cp1252")
    except UnicodeEncodeError:
        return _embedded("DejaVuSans-Bold" if bold else "DejaVuSans")
    return "Helvetica-Bold" if bold else "Helvetica"


@cache
def _embedded(name: str) -> str:
    """Register a font with the letters of most scripts; a file takes no more of it than the letters used.

    DejaVu comes with matplotlib, which comes with CadQuery's VTK; that library itself is not imported.
    """
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    from parts.making.model import MakeError

    found = find_spec("matplotlib")
    for folder in (found.submodule_search_locations if found else None) or ():
        file = Path(folder) / "mpl-data" / "fonts" / "ttf" / f"{name}.ttf"
        if file.is_file():
            registerFont(TTFont(name, str(file)))
            return name
    raise MakeError(
        "a sheet has letters beyond Latin, as in its title, and the font DejaVu, which comes with matplotlib, is "
        "not here; install matplotlib, or write Latin letters"
    )
