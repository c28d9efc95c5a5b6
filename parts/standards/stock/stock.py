"""Bar, tube and plate as it can be bought: reading a size as the bench writes it, and the next size up.

Builders use odd tube too, so a size that no list holds is read all the same: `is_stock` says that it is
odd and `nearest` what could be bought instead.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from types import MappingProxyType

from parts.standards.designation import Row, UnknownDesignation, inch_to_mm, read_table

KIND = "stock size"

# Two sizes closer than this are one: an inch size written in millimetres to two or three places.
_SAME_MM = 0.006

# What a shape is called, longest first where one name holds another; and how many numbers it takes.
SHAPES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "rectangular tube": ("rectangular tubing", "rect tube", "rhs", "box section"),
        "square tube": ("square tubing", "sq tube", "shs"),
        "round tube": ("round tubing", "tubing", "tube", "pipe", "chs"),
        "round bar": ("round rod", "round", "rod", "bar", "dia", "diameter", "ø", "⌀"),
        "hex bar": ("hexagon bar", "hexagon", "hex", "a/f"),
        "square bar": ("square", "sq"),
        "flat bar": ("flat",),
        "plate": ("sheet",),
    }
)
_WORDS: Mapping[str, str] = MappingProxyType(
    dict(
        sorted(
            ((name, shape) for shape, names in SHAPES.items() for name in (shape, *names)),
            key=lambda one: (-len(one[0]), one[0]),
        )
    )
)
"""The shape that each name stands for, the longest name first."""
_NUMBERS = {"rectangular tube": 3, "round tube": 2, "square tube": 2, "flat bar": 2}
_PREFIX = {"round tube": "", "rectangular tube": "", "flat bar": "flat ", "hex bar": "hex "}
_PREFIX |= {"round bar": "round ", "square bar": "square ", "square tube": "square tube "}
_PREFIX |= {"plate": "plate "}

_CROSS = re.compile(r"\s*(?:x|×|\bby\b|\*)\s*", re.I)
_SIZE = re.compile(
    r"(?P<number>[\d./\-\s]*[\d.])\s*(?P<unit>mm|inch(?:es)?|in\.?|\"|''|”|″)?", re.I
)
_RIGHT = "right would be 1-1/4 x 0.065 in, 25 x 2 mm, hex 7/8 in or plate 6 mm"


@dataclass(frozen=True)
class Stock:
    """One size of bar, tube or plate.

    Attributes:
        shape: key of `SHAPES`.
        width_mm: outside diameter, width, side, or width across flats; thickness of a plate [mm].
        height_mm: the other side of a rectangular tube, the thickness of a flat bar; otherwise
            `width_mm` [mm].
        wall_mm: of a tube; 0 for a solid [mm].
        name: the size as it is written on an order.
        metals: families of material in which a list holds it; empty where none does.
        source: where the lists come from; empty where none holds it.
        nearest: sizes in the lists that come nearest, where none holds this one.
    """

    shape: str
    width_mm: float
    height_mm: float
    wall_mm: float
    name: str
    metals: tuple[str, ...] = ()
    source: str = ""
    nearest: tuple[str, ...] = ()

    @property
    def is_stock(self) -> bool:
        """True where a list holds this size."""
        return bool(self.metals)

    @property
    def bore_mm(self) -> float:
        """Inside diameter, or the smaller inside width, of a tube; 0 for a solid [mm]."""
        if not self.wall_mm:
            return 0.0
        return min(self.width_mm, self.height_mm) - 2.0 * self.wall_mm

    @property
    def area_mm2(self) -> float:
        """Area of the section, tube corners taken as sharp [mm^2]; of plate, per millimetre of width."""
        w, h, t = self.width_mm, self.height_mm, self.wall_mm
        if self.shape in ("round bar", "round tube"):
            return math.pi / 4.0 * (w**2 - (self.bore_mm**2 if t else 0.0))
        if self.shape == "hex bar":
            return math.sqrt(3.0) / 2.0 * w**2
        if self.shape == "plate":
            return w
        return w * h - ((w - 2.0 * t) * (h - 2.0 * t) if t else 0.0)


@cache
def _length(text: str, unit: str) -> float:
    return float(text) if unit == "mm" else inch_to_mm(text)


def _sizes(row: Row) -> Iterable[tuple[str, float, float, float]]:
    """Name, width, height and wall [mm] of every size of a row."""
    shape, unit = row["shape"], row["unit"]
    for size in row["sizes"].split("|"):
        width, *rest = (_length(part, unit) for part in size.split(" x "))
        height = rest[0] if rest else width
        for second in row["walls"].split("|"):
            depth = _length(second, unit) if second else 0.0
            name = f"{_PREFIX[shape]}{size}{f' x {second}' if second else ''} {unit}"
            if shape == "flat bar":
                yield name, width, depth, 0.0
            else:
                yield name, width, height, depth


@cache
def _every(shape: str) -> tuple[Stock, ...]:
    """Every size of a shape in the lists once, with all the metals it comes in."""
    rows: dict[tuple[str, float, float, float], list[Row]] = {}
    for row in read_table("stock_sizes"):
        if row["shape"] == shape:
            for one in _sizes(row):
                rows.setdefault(one, []).append(row)
    found = []
    for (name, width, height, wall), those in rows.items():
        metals = _each_once("|", tuple(row["metals"] for row in those))
        sources = _each_once("; ", tuple(row["source"] for row in those))
        found.append(Stock(shape, width, height, wall, name, metals, "; ".join(sources)))
    return tuple(found)


@cache
def _each_once(between: str, cells: tuple[str, ...]) -> tuple[str, ...]:
    """The entries of some cells, which stand between signs, each once."""
    return tuple(dict.fromkeys(entry for cell in cells for entry in cell.split(between)))


def _dims(size: Stock) -> tuple[float, float, float]:
    return size.width_mm, size.height_mm, size.wall_mm


@lru_cache(maxsize=64)
def listed(shape: str, metal: str = "") -> tuple[Stock, ...]:
    """Every size of a shape that can be bought, the lightest section first.

    Args:
        shape: as for `shape_of`: "round tube", "hex", "plate", ...
        metal: family of material ("titanium", "aluminium", "carbon steel", "low-alloy steel",
            "stainless steel", "bronze"); empty for all.

    Raises:
        UnknownDesignation: when there is no such shape or metal; kind "stock shape" or "metal of stock".
    """
    wanted = shape_of(shape)
    rows = read_table("stock_sizes")
    if metal and not any(metal in row["metals"].split("|") for row in rows):
        shapes = dict.fromkeys(row["shape"] for row in rows)
        metals = dict.fromkeys(m for one in shapes for s in _every(one) for m in s.metals)
        raise UnknownDesignation("metal of stock", metal, "no list is of that metal", metals)
    sizes = (s for s in _every(wanted) if not metal or metal in s.metals)
    return tuple(sorted(sizes, key=lambda s: (s.area_mm2, s.name)))


def shape_of(text: str) -> str:
    """The shape (a key of `SHAPES`) that a word of the shop stands for.

    Raises:
        UnknownDesignation: when it stands for none; kind "stock shape".
    """
    word = text.strip().casefold()
    for shape, aliases in SHAPES.items():
        if word in (shape, *aliases):
            return shape
    raise UnknownDesignation("stock shape", text, "there is no such shape", SHAPES)


def _take_shape(text: str) -> tuple[str, str]:
    """The shape named in a text, empty where none is, and the text without it."""
    said = text.lower()
    for word, shape in _WORDS.items():
        if word not in said:
            continue
        edge = r"(?<![a-z])" if word[0].isalpha() else ""
        found = re.search(edge + re.escape(word) + r"(?![a-z])", text, re.I)
        if found:
            return shape, f"{text[: found.start()]} {text[found.end() :]}".strip()
    return "", text.strip()


def _read_numbers(text: str, sizes: str) -> tuple[list[str], list[str]]:
    """The numbers of a size and the unit of each."""
    found = [_SIZE.fullmatch(part.strip()) for part in _CROSS.split(sizes)]
    matches = [m for m in found if m]
    if len(matches) < len(found):
        raise UnknownDesignation(KIND, text, f"it is not a size of stock; {_RIGHT}")
    given = ["" if not m["unit"] else "mm" if m["unit"].lower() == "mm" else "in" for m in matches]
    numbers = [m["number"].strip() for m in matches]
    spoken = {u for u in given if u} or {"in" for n in numbers if "/" in n}
    if not spoken or (len(spoken) > 1 and "" in given):
        raise UnknownDesignation(KIND, text, f"a unit is missing, mm or in; {_RIGHT}")
    units = [unit or min(spoken) for unit in given]
    if any("/" in n and u == "mm" for n, u in zip(numbers, units, strict=True)):
        raise UnknownDesignation(KIND, text, "a fraction is an inch size, yet the unit says mm")
    return numbers, units


def _measure(text: str, number: str, unit: str) -> float:
    try:
        length = float(number) if unit == "mm" else inch_to_mm(number)
    except ValueError:
        raise UnknownDesignation(KIND, text, f"{number!r} is not a number; {_RIGHT}") from None
    if length <= 0.0:
        raise UnknownDesignation(KIND, text, "a size must be more than nothing")
    return length


def _arrange(text: str, shape: str, sizes: list[float]) -> tuple[str, float, float, float]:
    """Shape, width, height and wall from the numbers in the order in which they were written."""
    if not shape:
        if len(sizes) == 1:
            choices = [f"{_PREFIX[s]}{text.strip()}" for s in SHAPES if s not in _NUMBERS]
            raise UnknownDesignation(KIND, text, "the shape is missing; choose one", choices)
        shape = "round tube" if len(sizes) == 2 else "rectangular tube"
    if shape == "square tube" and len(sizes) == 3 and abs(sizes[0] - sizes[1]) < _SAME_MM:
        sizes = sizes[1:]
    if shape == "rectangular tube" and len(sizes) == 3:
        sizes = [*sorted(sizes[:2]), sizes[2]]
        if sizes[1] - sizes[0] < _SAME_MM:
            shape, sizes = "square tube", sizes[1:]
    wanted = _NUMBERS.get(shape, 1)
    if len(sizes) != wanted:
        raise UnknownDesignation(
            KIND, text, f"a {shape} takes {wanted} number{'s' * (wanted > 1)}; {_RIGHT}"
        )
    if shape == "flat bar":
        return shape, max(sizes), min(sizes), 0.0
    wall = sizes[-1] if "tube" in shape else 0.0
    width, height = sizes[0], sizes[1] if shape == "rectangular tube" else sizes[0]
    if 2.0 * wall >= min(width, height):
        raise UnknownDesignation(KIND, text, f"a wall of {wall:.4g} mm leaves no bore")
    return shape, width, height, wall


def _distance(one: Stock, other: Stock) -> float:
    pairs = zip(_dims(one), _dims(other), strict=True)
    return sum(abs(math.log(a / b)) for a, b in pairs if a and b)


def stock(text: str, *, shape: str = "", metal: str = "", must_be_stock: bool = False) -> Stock:
    """Read a size of bar, tube or plate.

    Two numbers without a shape are a round tube (outside diameter and wall), three a rectangular tube.
    One unit holds for all numbers, two must each stand where they belong; a fraction is an inch size.

    Args:
        text: "1-1/4 in x 0.065 in", "25 x 2 mm", "1 x 2 x 0.065 in", "hex 7/8 in", "flat 40 x 8 mm".
        shape: as for `shape_of`, where the text says none.
        metal: family of material, to judge whether it can be bought; empty for any.
        must_be_stock: refuse a size that no list holds.

    Returns:
        the size; `is_stock` tells whether a list holds it, and `nearest` what could be bought instead.

    Raises:
        UnknownDesignation: when it cannot be read, contradicts itself, or is odd where that was to be
            refused; kind "stock size" (or "stock shape", "metal of stock").
    """
    said, sizes = _take_shape(text)
    wanted = shape_of(shape) if shape else ""
    if (said, wanted) == ("square tube", "rectangular tube"):
        wanted = said  # its name, where both sides are alike
    if said and wanted and said != wanted:
        raise UnknownDesignation(
            KIND, text, f"it says {said}, yet a {wanted} is asked for", [said, wanted]
        )
    numbers, units = _read_numbers(text, sizes)
    lengths = [_measure(text, n, u) for n, u in zip(numbers, units, strict=True)]
    kind, width, height, wall = _arrange(text, wanted or said, lengths)
    read = Stock(kind, width, height, wall, text.strip())
    lists = listed(kind, metal)
    for size in lists:
        if (
            abs(size.width_mm - width) < _SAME_MM
            and abs(size.height_mm - height) < _SAME_MM
            and abs(size.wall_mm - wall) < _SAME_MM
        ):
            return size
    near = tuple(s.name for s in sorted(lists, key=lambda s: (_distance(read, s), s.name))[:3])
    if must_be_stock:
        among = f" in {metal}" if metal else ""
        raise UnknownDesignation(KIND, text, f"no list of {kind}{among} holds it", near)
    return Stock(kind, width, height, wall, text.strip(), nearest=near)


def box(text: str) -> Stock:
    """A square or rectangular tube whose width is the side that stands first.

    Args:
        text: as for `stock`, "40 x 20 x 2 mm".

    Raises:
        UnknownDesignation: it is none.
    """
    found = stock(text, shape="rectangular tube")
    numbers, units = _read_numbers(text, _take_shape(text)[1])
    if abs(_measure(text, numbers[0], units[0]) - found.width_mm) < _SAME_MM:
        return found
    return replace(
        found, width_mm=found.height_mm, height_mm=found.width_mm, name=" ".join(text.split())
    )
