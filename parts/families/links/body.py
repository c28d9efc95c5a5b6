"""The body of a link, whatever it is made like: the threads that its ends screw into, and the walls round them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import ByOne, LoadCase
from parts.core.ways import Kind
from parts.families.links.adjustment import Adjustment
from parts.families.links.link_column import ColumnBody
from parts.families.links.sites import AtEnd, BetweenEnds
from parts.features.bung.wall import wall_modes, wall_spot
from parts.features.thread.threaded import strip_strengths
from parts.features.weld.tube_weld import Bears
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.bolted import threads_loaded
from parts.strength.method import work

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.part import Piece
    from parts.core.supports import Held
    from parts.core.weldment import Weldment
    from parts.standards.stock.stock import Stock


class LinkBody(Group, Answers[BetweenEnds]):
    """What every body of a link answers beside the questions of a feature."""

    def stock_thickness(self) -> Any:
        """Thickness of its stock, on which its strength depends [mm]."""
        raise NotImplementedError

    def female(self, i: int, link: Adjustment, metal: Material) -> Material:
        """What the thread of an end is cut into; softened where a weld is near."""
        return metal

    def face(self, i: int) -> Any:
        """Least width of its outside beside the thread of an end [mm]."""
        raise NotImplementedError

    def walls(self, i: int, thread: Thread) -> tuple[Any, Any]:
        """Least area [mm^2] and section modulus [mm^3] of its wall beside the root of an end's thread."""
        raise NotImplementedError

    @cached_property
    def _walls(self) -> ByOne[AtEnd, tuple[Any, Any]]:
        return ByOne(lambda end: self.walls(end.i, end.link.ends[end.i].thread))

    def column(self, link: Adjustment, metal: Material) -> ColumnBody:
        """It as a column."""
        raise NotImplementedError

    def slant(self) -> Any:
        """Width over its corners by width over its flats [-]: how much more a moment bends it whose plane is not
        known."""
        raise NotImplementedError

    def kinds(self, site: BetweenEnds) -> list[Kind]:
        """What can fail of it."""
        return [Kind("column"), *(Kind("threaded wall", end.name) for end in site.ends)]

    def modes(self, site: BetweenEnds, case: LoadCase) -> Iterator[Check]:
        """Stripped threads, and the wall beside them, at either end."""
        for end in site.ends:
            yield from self._strip(end, case)
            yield from self._wall(end, case)

    def _strip(self, end: AtEnd, case: LoadCase) -> Iterator[Check]:
        """The shank's thread and the body's, at minimum material and at the longest."""
        load, link, thread = end.load(case), end.link, end.link.ends[end.i].thread
        strengths = strip_strengths(
            thread, link.engaged(end.i, link.lengths.maximum), end.male.shear_ultimate,
            end.female().shear_ultimate, end.face,
        )  # fmt: skip
        pull = work(
            threads_loaded.moment_as_pull, N=load.force.pull, M=load.bent, d2=thread.pitch_diameter
        )
        for side, strength in zip(("male", "female"), strengths, strict=True):
            yield check(
                f"{end.name} thread strip, {side}", "thread strip", load_case=case.name, unit="N",
                required=end.required(case).on_ultimate, demand=pull, capacity=strength,
                note="least engagement, at the longest; what bends the shank counted as a pull",
            )  # fmt: skip

    def _wall(self, end: AtEnd, case: LoadCase) -> Iterator[Check]:
        """The wall beside the thread, pulled and bent."""
        load, walls = end.load(case), self._walls(end)
        bears = Bears(load.force.pull, load.force.sideways, load.bent, load.twist, load.rubs)
        yield from wall_modes(end.name, walls, end.female(), bears, case.name, end.required(case))

    def details(self, site: BetweenEnds, modes: Modes) -> Sequence[Detail]:
        """The threads in it."""
        return [self._thread(end, modes) for end in site.ends]

    def _thread(self, end: AtEnd, modes: Modes) -> Detail:
        walls = self._walls(end)
        return wall_spot(
            end.name, walls, end.female(), end.face, modes, lambda case: end.load(case).rubs
        )

    def weldment(self, site: BetweenEnds) -> Weldment | None:
        """How its pieces are welded together; None where it is one piece."""
        return None

    def cut_from(self, piece: str) -> Stock | None:
        """The stock that a piece is sawn from; None where any bar that holds it does."""
        return None

    def held(self, site: BetweenEnds, case: LoadCase) -> list[Held]:
        """How its pieces are held and loaded, for finite elements."""
        raise NotImplementedError

    def drawn(self, site: BetweenEnds) -> list[Drawn]:
        """Its sheets."""
        raise NotImplementedError

    def pieces(self, site: BetweenEnds) -> list[Piece]:
        """Its solids, in place."""
        raise NotImplementedError
