"""What a part says of its drawing: the views that show it, and every dimension it is made to.

Places are in the part's axes [mm], directions are unit vectors in them, angles are in radians. A value comes
from the dimensions of the part, never from an edge of the solid; the drawing measures each on the solid again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from parts.core.tube_ends import Tube
    from parts.standards.threads.threads import Thread
    from parts.strength.section.outline import Loop

Place = Sequence[float] | NDArray[np.float64]
Side = Literal["front", "top", "bottom", "left", "right", "back"]


@dataclass(frozen=True)
class Linear:
    """A length from `start` to `end`, measured along a direction.

    `fit` is the tolerance class of the value and `limits` the least and largest that it allows; `callout` follows them
    (`typ`, a name); `count` is how many times it comes; `reference` puts it in brackets: it follows from others and is
    not measured. `view` names the view that shows it; the first that shows it true where left out. `sides` is how many
    flats it lies across, all alike about one axis: of a hexagon 6.
    """

    name: str
    start: Place
    end: Place
    along: Place
    value: float
    callout: str = ""
    count: int = 1
    reference: bool = False
    view: str = ""
    fit: str = ""
    limits: tuple[float, float] | None = None
    sides: int = 2


@dataclass(frozen=True)
class Diameter:
    """The diameter of something turned or round, shown across its side; `text` replaces the value.

    `fit` is its tolerance class, in lower case of what is turned, and `limits` the least and largest that it
    allows.
    """

    name: str
    centre: Place
    axis: Place
    value: float
    callout: str = ""
    text: str = ""
    count: int = 1
    view: str = ""
    fit: str = ""
    limits: tuple[float, float] | None = None


@dataclass(frozen=True)
class Radius:
    """The radius of an arc about `centre`, touched by its leader in the direction `toward`.

    `alike` are places on other arcs of the same radius, where its leader may end as well.
    """

    name: str
    centre: Place
    axis: Place
    toward: Place
    value: float
    callout: str = ""
    count: int = 1
    view: str = ""
    alike: tuple[tuple[Place, Place], ...] = ()


@dataclass(frozen=True)
class Angle:
    """The angle at `vertex` from one direction to another, less than half a turn.

    `from_axis` where the first direction is an axis of the part, along which no edge need lie.
    """

    name: str
    vertex: Place
    first: Place
    second: Place
    value: float
    callout: str = ""
    count: int = 1
    view: str = ""
    from_axis: bool = False


Characteristic = Literal["position", "perpendicularity", "parallelism", "coaxiality"]


@dataclass(frozen=True)
class Zone:
    """A geometric tolerance of ISO 1101: the zone of width or diameter `value` [mm] that an axis must lie in.

    `datums` are the letters of its datums, the first first; `round` where the zone is a cylinder.
    """

    characteristic: Characteristic
    value: float
    datums: tuple[str, ...] = ()
    round: bool = True


@dataclass(frozen=True)
class DatumFeature:
    """A face that is a datum (ISO 5459): its letter, the run of its edge in a view, and the direction out of it."""

    letter: str
    start: Place
    end: Place
    out: Place
    view: Side = "front"


@dataclass(frozen=True)
class Weld:
    """A weld, at a place that its symbol points to.

    `kind` is its preparation; `size` the leg of a fillet or the depth of a groove [mm]; `both` where it is made on both
    sides, `all_round` where it runs round the joint; `gap` the root gap [mm]; `filler` as the builder names it;
    `american` where the symbol is that of AWS A2.4.
    """

    name: str
    at: Place
    kind: Literal["fillet", "bevel", "square"]
    size: float
    both: bool = False
    all_round: bool = False
    gap: float = 0.0
    filler: str = ""
    american: bool = False


@dataclass(frozen=True)
class Balloon:
    """The number of a piece in the parts list, and a place on it."""

    number: int
    at: Place


@dataclass(frozen=True)
class Callout:
    """Words with a leader to a place: a chamfer, a groove, a weld, a surface.

    Sizes in the words stand as `{0}`, `{1}` ... for those of `sizes`, so that they too come in the units of the
    drawing and are measured on the solid.
    """

    name: str
    at: Place
    text: str
    sizes: tuple[Linear | Diameter | Radius | Angle, ...] = ()
    view: str = ""
    zones: tuple[Zone, ...] = ()
    datum: str = ""
    signs: tuple[Weld | Balloon, ...] = ()


@dataclass(frozen=True)
class Hole:
    """A round hole, from its mouth at `place` along `axis` into the metal.

    `diameter` is that of the solid: of a tapped hole, its minor diameter. `depth` is that of the full
    diameter, None where it goes through; `through` is the length of metal it then passes. `tapped` is the
    depth of full thread, None through all. `limits` are the least and largest diameter that a fit allows.
    `noted` is true of a hole that no view shows round: the sheet's notes state its size, the process sheet its place.
    `one_wall` is true of a hole that ends in the bore behind the wall. `left` is what stays on the diameter until the
    piece is welded and cold; `when` says what must be in its place before it is drilled. `zones` are the geometric
    tolerances of its axis, and `datum` the letter where its axis is one.
    """

    name: str
    place: Place
    axis: Place
    diameter: float
    depth: float | None = None
    through: float = 0.0
    thread: Thread | None = None
    tapped: float | None = None
    fit: str = ""
    limits: tuple[float, float] | None = None
    countersink: float = 0.0
    counterbore: tuple[float, float] | None = None
    callout: str = ""
    view: str = ""
    noted: bool = False
    one_wall: bool = False
    left: float = 0.0
    when: str = ""
    zones: tuple[Zone, ...] = ()
    datum: str = ""


@dataclass(frozen=True)
class ThreadLines:
    """A thread as a drawing shows it: thin lines at its root (male) or its major diameter (tapped)."""

    start: Place
    end: Place
    major: float
    minor: float
    internal: bool = False


@dataclass(frozen=True)
class CentreLine:
    """A line about which something is alike on both sides, from start to end."""

    start: Place
    end: Place


@dataclass(frozen=True)
class Profile:
    """A run of lines and arcs, cut square to `axis`, whose ends and centres a table on the sheet gives.

    `places` are start, middle and end of each piece, of shape (n, 3, 3): they say an arc, whichever hand the part is.
    A run that is not `tabled` is stated by words or by a template, as a notch that fits a tube.
    """

    name: str
    axis: Place
    places: NDArray[np.float64]
    tabled: bool = True


def run_of(name: str, loop: Loop, height: float = 0.0, *, tabled: bool = True) -> Profile:
    """The profile of a loop of lines and arcs in the plane z = `height` [mm]."""
    three = np.array([0.0, 0.5, 1.0])
    flat = np.array([curve.at(three)[0] for curve in loop.curves()])
    return Profile(name, (0, 0, 1), np.dstack([flat, np.full(flat.shape[:2], height)]), tabled)


@dataclass(frozen=True)
class Worded:
    """What words state as a whole, as the designation of a spline: every face between two diameters about an axis.

    A leader to it ends `on` it; at its centre where left out.
    """

    name: str
    centre: Place
    axis: Place
    inner: float
    outer: float
    on: Place | None = None


@dataclass(frozen=True)
class View:
    """A view from one side of the front view; cut through `cut` where that is given."""

    side: Side
    cut: Place | None = None
    hidden: bool = False


@dataclass(frozen=True)
class Datum:
    """Where a mill's readout is set to zero, in words and as a place."""

    place: Place
    words: str


Dimension = Linear | Diameter | Radius | Angle | Callout

_PLACES = frozenset({"start", "end", "centre", "at", "place", "vertex", "places", "on"})
_DIRECTIONS = frozenset({"along", "axis", "toward", "first", "second", "out"})


@dataclass(frozen=True)
class Marks:
    """What a feature says of itself on a drawing, in its own axes.

    `ways` are directions that a note states, as that of flats turned against the ears.
    """

    dimensions: tuple[Dimension, ...] = ()
    holes: tuple[Hole, ...] = ()
    threads: tuple[ThreadLines, ...] = ()
    centres: tuple[CentreLine, ...] = ()
    notes: tuple[str, ...] = ()
    profiles: tuple[Profile, ...] = ()
    worded: tuple[Worded, ...] = ()
    ways: tuple[Place, ...] = ()
    datums: tuple[DatumFeature, ...] = ()

    def __add__(self, other: Marks) -> Marks:
        return Marks(*(getattr(self, one.name) + getattr(other, one.name) for one in fields(self)))

    def moved(
        self, origin: Place, axes: Sequence[Place] | NDArray[np.float64] | None = None
    ) -> Marks:
        """The same in the axes of the part: those of the feature are the rows of `axes`, from `origin`."""
        turn = np.eye(3) if axes is None else np.asarray(axes, float)
        shift = np.asarray(origin, float)

        def one(mark: Any) -> Any:
            here = {f.name for f in fields(mark)}
            own = {n: getattr(mark, n) for n in here & _PLACES}
            places = {
                n: np.asarray(v, float) @ turn + shift for n, v in own.items() if v is not None
            }
            ways = {n: np.asarray(getattr(mark, n), float) @ turn for n in here & _DIRECTIONS}
            sizes = {n: tuple(map(one, getattr(mark, n))) for n in here & {"sizes"}}
            if isinstance(mark, Radius):
                others = (
                    (np.asarray(p, float) @ turn + shift, np.asarray(w, float) @ turn)
                    for p, w in mark.alike
                )
                sizes["alike"] = tuple(others)
            return replace(mark, **places, **ways, **sizes)

        marked = ("dimensions", "holes", "threads", "centres", "profiles", "worded", "datums")
        ways = tuple(np.asarray(way, float) @ turn for way in self.ways)
        return replace(self, ways=ways, **{n: tuple(map(one, getattr(self, n))) for n in marked})


@dataclass(frozen=True)
class Drawn:
    """One sheet: one piece, seen from the front with `right` to the right and `up` upward, and more views.

    `sheet_metal` is the thickness of a piece that is bent or cut from one sheet [mm]; 0 of all others. `count` is how
    often the piece comes in one part, and `hand` says which hand is drawn if there are two. `lists` are lists with a
    heading, as the parts of an assembly.
    """

    right: Place
    up: Place
    views: tuple[View, ...]
    marks: Marks
    datum: Datum | None = None
    tubes: tuple[Tube, ...] = ()
    piece: str = "part"
    title: str = ""
    sheet_metal: float = 0.0
    count: int = 1
    hand: str = ""
    lists: tuple[tuple[str, tuple[str, ...]], ...] = ()
