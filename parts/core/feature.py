"""The contract of a feature: what it needs to know in one record, and the questions that every feature answers.

A feature is what a part is made of: a fork, a threaded shank, a mount, a hub's bore. It holds its own dimensions and
knows nothing of its part. The part tells it in a `Site` where it stands, and asks it what a part asks itself.
Options that stand in for each other take the same kind of site.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Generic, Protocol, TypeVar

import numpy as np

from parts.core.loads import Action, LoadCase, Required
from parts.standards.materials.materials import Material

if TYPE_CHECKING:
    from parts.core.check import Check
    from parts.core.clearances import Clearance
    from parts.core.drawing import Marks
    from parts.core.fatigue_places import Detail
    from parts.core.freebody import Acting
    from parts.core.loadpath import Span
    from parts.core.part import Bought
    from parts.core.rules import Rule
    from parts.core.supports import Applied, Support
    from parts.core.ways import Kind

Actions = Callable[[LoadCase], Sequence[Action]]


def no_actions(_: LoadCase) -> Sequence[Action]:
    """What acts where nothing does."""
    return ()


def least_factors(case: LoadCase) -> Required:
    """The factors that a load case asks for, or the usual ones."""
    return case.required or Required()


@dataclasses.dataclass(frozen=True)
class Site:
    """Where a feature stands, and what its part says of it there.

    What a kind of feature needs besides stands in a site derived from this one: the back of a body under a shank, the
    plate under a post.

    Attributes:
        field: dotted path of the feature in the file, as `ears` or `mounts[3]`.
        metal: what the part is made of there; softened where a weld is near.
        name: what its spans and checks are called by, as `end a`; empty where its own words are enough.
        edge_break: chamfer of outside edges [mm].
        thickness: of the plate or wall that it stands on [mm]; nan where it stands on none.
        at: its origin in the axes of the part [mm], shape (..., 3).
        turn: rotation of shape (3, 3) whose columns are its axes in those of the part.
        piece: the piece of the part that it belongs to.
        actions: what acts on it under a load case, in its own axes.
        required: the factors asked for under a load case.
        loads: all load cases of the part, which come one after another.
    """

    field: str
    metal: Material
    name: str = ""
    edge_break: Any = 0.0
    thickness: Any = np.nan
    at: Any = (0.0, 0.0, 0.0)
    turn: Any = dataclasses.field(default_factory=lambda: np.eye(3))
    piece: str = "part"
    actions: Actions = no_actions
    required: Callable[[LoadCase], Required] = least_factors
    loads: Sequence[LoadCase] = ()


S_contra = TypeVar("S_contra", bound=Site, contravariant=True)
S = TypeVar("S", bound=Site)
Modes = Callable[[LoadCase], Sequence["Check"]]
"""The checks of the whole part under a load case, for fatigue to take stresses from."""


class Feature(Protocol[S_contra]):
    """What every feature answers, at a site."""

    def rules(self, site: S_contra) -> Iterator[Rule]:
        """What its dimensions must meet."""
        ...

    def spans(self, site: S_contra) -> Sequence[Span]:
        """Its stretch of the load path, in its own axes."""
        ...

    def modes(self, site: S_contra, case: LoadCase) -> Iterator[Check]:
        """Its ways of failing beyond the stress along the load path."""
        ...

    def standing(self, site: S_contra) -> Iterator[Check]:
        """Checks that hold under no load, as of press fits."""
        ...

    def details(self, site: S_contra, modes: Modes) -> Sequence[Detail]:
        """Threads, welds and other places that fatigue is checked at."""
        ...

    def holding(self, site: S_contra, case: LoadCase) -> Sequence[Acting]:
        """What holds the part there under a load case."""
        ...

    def supports(self, site: S_contra) -> Sequence[Support]:
        """How finite elements hold it there."""
        ...

    def applied(self, site: S_contra, case: LoadCase) -> Sequence[Applied]:
        """How finite elements load it there."""
        ...

    def kinds(self, site: S_contra) -> Sequence[Kind]:
        """What can fail of it: kinds of joint and member, as `parts.core.ways` lists them."""
        ...

    def marks(self, site: S_contra) -> Marks:
        """What a drawing says of it, in its own axes."""
        ...

    def facts(self, site: S_contra) -> Mapping[str, tuple[Any, str]]:
        """What a builder wants to know of it: value and unit by name."""
        ...

    def bought(self, site: S_contra) -> Sequence[Bought]:
        """The bought-in hardware that it needs."""
        ...

    def touching(self, site: S_contra) -> Mapping[str, str]:
        """The galvanic surface of what touches it, by name."""
        ...

    def cautions(self, site: S_contra) -> Sequence[str]:
        """What the shop must watch."""
        ...

    def clearances(self, site: S_contra) -> Sequence[Clearance]:
        """Its joints at the limits of their sizes."""
        ...


class Answers(Generic[S]):
    """A feature that has nothing to say, to derive from: each answers what it has an answer to.

    Solids are not among the answers: some add metal to a body, some cut it, and each kind says how.
    """

    def rules(self, site: S) -> Iterator[Rule]:
        return iter(())

    def spans(self, site: S) -> Sequence[Span]:
        return ()

    def modes(self, site: S, case: LoadCase) -> Iterator[Check]:
        return iter(())

    def standing(self, site: S) -> Iterator[Check]:
        return iter(())

    def details(self, site: S, modes: Modes) -> Sequence[Detail]:
        return ()

    def holding(self, site: S, case: LoadCase) -> Sequence[Acting]:
        return ()

    def supports(self, site: S) -> Sequence[Support]:
        return ()

    def applied(self, site: S, case: LoadCase) -> Sequence[Applied]:
        return ()

    def kinds(self, site: S) -> Sequence[Kind]:
        return ()

    def marks(self, site: S) -> Marks:
        from parts.core.drawing import Marks

        return Marks()

    def facts(self, site: S) -> Mapping[str, tuple[Any, str]]:
        return {}

    def bought(self, site: S) -> Sequence[Bought]:
        return ()

    def touching(self, site: S) -> Mapping[str, str]:
        return {}

    def cautions(self, site: S) -> Sequence[str]:
        return ()

    def clearances(self, site: S) -> Sequence[Clearance]:
        return ()
