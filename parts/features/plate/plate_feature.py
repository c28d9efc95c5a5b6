"""What every mount, peg, pivot, post and cylinder of a plate answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from pydantic import Field

from parts.core.feature import Answers, Feature, Modes
from parts.core.group import Group
from parts.features.plate.fixture import Fixture
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.section.rims import Rim
from parts.inputs.quantities import Point2, PositiveLength

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Round
    from parts.standards.fits.iso286 import Limits


class PlateFeature(Feature[OnPlate], Protocol):
    """What a plate asks of a feature besides."""

    @property
    def at(self) -> tuple[Any, Any]:
        """Where it stands [mm]."""
        ...

    def base(self) -> Any:
        """Height over the plate's outer face at which its root is [mm]."""
        ...

    def fixtures(self, site: OnPlate) -> Sequence[Fixture]:
        """What it adds to the plate."""
        ...

    def standing_on(self) -> tuple[Any, Any] | None:
        """Diameter of what presses on the plate beside it, and its root fillet, None where it has no root [mm].

        None where it does not bend the plate.
        """
        ...

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of what is made to a fit, by name."""
        ...

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        """Its holes that carry load themselves; `modes` gives its checks under a load case."""
        ...

    def bored(self, site: OnPlate) -> Sequence[Round]:
        """Walls to which a proof bores it out, as a spline to its largest diameter."""
        ...


class Lever(PlateFeature, Protocol):
    """A feature that is loaded at a load point of its own."""

    def load_height(self, thickness: Any) -> Any:
        """Height of its load point over the inner face of the plate [mm]."""
        ...


class AtPoint(Answers[OnPlate]):
    """A feature at one point of a plate, which has nothing to say: each answers what it has an answer to."""

    def base(self) -> Any:
        return 0.0

    def fixture(self, site: OnPlate) -> Fixture:
        """What it adds to the plate at its point."""
        raise NotImplementedError

    def fixtures(self, site: OnPlate) -> Sequence[Fixture]:
        return (self.fixture(site),)

    def standing_on(self) -> tuple[Any, Any] | None:
        return None

    def fitted(self) -> Mapping[str, Limits]:
        return {}

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        return ()

    def bored(self, site: OnPlate) -> Sequence[Round]:
        return ()

    def marks(self, site: OnPlate) -> Marks:
        from parts.features.plate.point_marks import of_point

        return of_point(self.fixture(site), site, self.fitted())


class AtHeight(Group, AtPoint):
    """What is loaded at a height over the plate."""

    at: Point2 = Field(description="Where it stands.")
    height: PositiveLength = Field(
        description="From the outer face of the plate to where the load acts on it."
    )

    def arm(self) -> Any:
        """From its root to where the load acts [mm]."""
        return self.height - self.base()

    def load_height(self, thickness: Any) -> Any:
        return thickness + self.height
