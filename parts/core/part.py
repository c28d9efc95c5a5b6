"""What every part is: a name, a material, loads, and the small contract that a family fulfils."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar, Literal, Self

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.family_class import FamilyClass
from parts.core.fatigue_places import Detail
from parts.core.freebody import Acting
from parts.core.group import Group
from parts.core.loads import ByCase, LoadCase, Required
from parts.core.refusing import refuse_broken, refuse_lost_loads, refuse_too_thick
from parts.core.rules import Rule
from parts.core.shop import Cutting, Drawing, Milling, PrintFit
from parts.inputs.designations import MaterialName
from parts.inputs.document import dotted, steps_of
from parts.inputs.quantities import NonNegativeLength
from parts.inputs.reading import PartName
from parts.inputs.variants import owner_of, parsed, with_values
from parts.standards.materials.materials import Material, material

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.blank import Blank
    from parts.core.clearances import Clearance
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.search.result import Result
    from parts.core.supports import Held
    from parts.core.ways import Kind
    from parts.core.weldment import Weldment
    from parts.standards.stock.stock import Stock

Output = Literal["step", "stl", "report", "picture", "page"]
OUTPUTS: tuple[Output, ...] = ("step", "stl", "report", "picture", "page")
Surface = Literal["ground", "machined or cold-drawn", "hot-rolled", "as-forged"]
Reliability = Literal["50", "90", "95", "99", "99.9", "99.99"]
Form = Literal["sheet", "plate", "bar", "tube", "extrusion"]


@dataclass(frozen=True)
class Bought:
    """A bought-in part: its designation, how many, and what it fits."""

    designation: str
    quantity: int
    fits: str
    source: str = ""


@dataclass(frozen=True)
class Piece:
    """One made piece of a part: its name within the part, its material, and the solid in the part's axes."""

    name: str
    material: Material
    solid: cq.Workplane


class Revision(Group):
    """What a revision changed."""

    revision: str = Field(max_length=12, description="The revision, as B.")
    changed: str = Field(min_length=1, max_length=120, description="What it changed.")
    date: str = Field("", max_length=20, description="When, as the builder writes it.")


class Part(Group, metaclass=FamilyClass):
    """The base of every family.

    A family states its dimensions as fields; `points`, the places where loads may act; `rules`; `spans`,
    its load path; `modes`, the checks beyond the stress at the critical section; and `build`, its pieces.
    Each of these but `build` takes arrays in place of any number, and none but `build` imports CAD.
    """

    summary: ClassVar[str] = ""
    """One line on what the family is, for lists."""
    axes: ClassVar[str] = ""
    """Where the part's x, y and z lie."""
    load_points: ClassVar[Mapping[str, str]] = {}
    """Every load point that a part of the family may have, and what brings it in; empty where it is always there."""
    not_covered: ClassVar[tuple[str, ...]] = ()
    """Failure modes and loads that the checks of the family leave out."""
    example: ClassVar[Mapping[str, Any]] = {}
    """A valid part to start from, as the YAML file would state it."""
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ()
    """Valid parts over the family's options, which the common tests run on; the example alone where left out."""

    family: str
    name: PartName = Field(description="Part number or name; it names the output folder.")
    title: str = Field("", max_length=80, description="What the part is, for drawings and reports.")
    revision: str = Field("A", max_length=12, description="Revision, for drawings and reports.")
    revisions: list[Revision] = Field(
        default_factory=list, max_length=20, description="What each revision changed, for drawings."
    )
    quantity: int = Field(1, ge=1, le=1000, description="How many are made, for drawings.")
    material: MaterialName = Field(description="Material by its name, with its condition.")
    form: Form | None = Field(
        None,
        description="Form of the stock, which decides its strength; the lowest of all forms where left out.",
    )
    finish: str = Field("", max_length=80, description="Surface finish, as in `zinc plated`.")
    temperature: float = Field(
        20.0,
        ge=-60.0,
        le=1000.0,
        description="Warmth in service in degrees Celsius, as beside an exhaust or a brake.",
    )
    edge_break: NonNegativeLength = Field(
        0.4, description="Chamfer on outside edges; 0 leaves them sharp."
    )
    loads: list[LoadCase] = Field(
        default_factory=list, max_length=200, description="Load cases that the part must bear."
    )
    required: Required = Field(
        default_factory=Required, description="Required factors of safety for every load case."
    )
    surface: Surface = Field(
        "machined or cold-drawn",
        description="Finish of the surface, which decides its fatigue strength.",
    )
    reliability: Reliability = Field(
        "99", description="Share of parts, in per cent, that are to reach the fatigue strength."
    )
    outputs: list[Output] = Field(
        default_factory=lambda: list(OUTPUTS),
        description="What to write.",
    )
    drawing: Drawing = Field(
        default_factory=Drawing, description="How the shop drawing is laid out."
    )
    cutting: Cutting = Field(
        default_factory=Cutting, description="How flat blanks are cut, and from which sheet."
    )

    milling: Milling = Field(
        default_factory=Milling, description="How it is milled, and what the mill's file holds."
    )
    print_fit: PrintFit = Field(
        default_factory=PrintFit,
        description="How the fit-up print is made; a file of the printer's fills it in.",
    )

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: Any) -> dict[str, Any]:
        found: dict[str, Any] = handler(schema)
        handler.resolve_ref_schema(found)["description"] = cls.plain_doc
        return found

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        super().__pydantic_init_subclass__(**kwargs)
        if "examples" not in vars(cls):
            cls.examples = (cls.example,) if cls.example else ()

    def points(self) -> Mapping[str, Any]:
        """Load points by name: places [mm] of shape (..., 3) in the part's axes."""
        raise NotImplementedError

    def rules(self) -> Iterator[Rule]:
        """Every rule that the dimensions must meet."""
        raise NotImplementedError

    def spans(self) -> Sequence[Span]:
        """The load path, as stretches along which the section is scanned."""
        raise NotImplementedError

    def modes(self, case: LoadCase) -> Iterator[Check]:
        """The family's checks under one load case, beyond the stress at the critical section."""
        raise NotImplementedError

    @cached_property
    def checks_under(self) -> ByCase[tuple[Check, ...]]:
        """What `modes` gives under a load case, and under its loads turned round where a cycle does that; worked once:
        fatigue asks for the stresses again."""
        return ByCase(self._checks_under)

    def _checks_under(self, case: LoadCase) -> tuple[Check, ...]:
        from parts.core.service import warmed

        found = tuple(warmed(self, self.modes(case)))
        if case.turned is None or not any(one is case for one in self.loads):
            return found
        return (*found, *self.checks_under(case.turned))

    @cached_property
    def keeps(self) -> float:
        """Share of its strength that it keeps at its temperature [-]."""
        from parts.core.service import share_kept

        return share_kept(self)

    def build(self) -> Sequence[Piece]:
        """Make every piece of the part. Imports CadQuery."""
        raise NotImplementedError

    def held(self, case: LoadCase) -> Sequence[Held]:
        """How its pieces are held and loaded, for finite elements.

        Raises:
            NotProved: the family, or this option of it, does not say.
        """
        from parts.core.supports import NotProved

        raise NotProved(
            f"the family {self.family!r} does not say how it is held; it has no proof yet"
        )

    def stock_thickness(self) -> Any:
        """Thickness or diameter [mm] of the stock that the part is cut from; its strength depends on it."""
        raise NotImplementedError

    def cut_from(self, piece: str) -> Stock | None:
        """The tube or bar that a piece is cut from as it is bought; None where it is milled or turned all over."""
        return None

    @cached_property
    def metal(self) -> Material:
        """The row of the material for this part's form and stock thickness; families calculate with it.

        With arrays, that of the thickest: thick stock is no stronger than thin.
        """
        thickness = float(np.max(self.stock_thickness()))
        return material(self.material.name, thickness_mm=thickness, form=self.form)

    def drawn(self) -> Sequence[Drawn]:
        """The shop drawing's sheets, one a piece: views and every dimension; none where it has no drawing."""
        return ()

    def weldment(self) -> Weldment | None:
        """How its pieces are welded together, or to a frame, for an assembly sheet; None where nothing is."""
        return None

    def blanks(self) -> Sequence[Blank]:
        """The flat blanks it is cut from, one a figure; none where it is no plate."""
        return ()

    def left_out_of_the_path(self, case: LoadCase) -> str:
        """What the stress along the load path leaves out under a load case, for the note of its check; empty where
        it is all there."""
        return ""

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        """What holds the part under a load case: bolts, welds, shank, bar. With the loads it sums to nothing.

        Worked out as the family's checks work it out, so that a load that is lost on the way shows.
        """
        return ()

    def standing(self) -> Iterator[Check]:
        """Checks that hold under no load at all, as of press fits."""
        return iter(())

    def details(self) -> Sequence[Detail]:
        """Threads, welds and other places that fatigue is checked at besides the sections."""
        return ()

    def kinds(self) -> Sequence[Kind]:
        """The kinds of joint and member that it holds, as `parts.core.ways` lists what can fail of each."""
        return ()

    def uncovered(self) -> Sequence[str]:
        """What the checks leave out, as this part is stated."""
        said = list(self.not_covered)
        if not any(case.spectrum for case in self.loads):
            said.append("fatigue: no load case states a spectrum of cycles")
        return said

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        """What else a builder wants to know: value and unit by name, as in rates and lengths."""
        return {}

    def clearances(self) -> Sequence[Clearance]:
        """Its joints at the limits of their sizes: what goes into it, and what it goes into."""
        return ()

    def eased(self, more: float) -> Self:
        """The part as a fit-up print is made: so much more room [mm] where what goes in is no round pin."""
        free = {one.field: one.eased(more) for one in self.clearances() if one.eased is not None}
        return with_values(self, free)

    def bought(self) -> Sequence[Bought]:
        """Bought-in hardware that the part needs."""
        return ()

    def cautions(self) -> Sequence[str]:
        """Shop cautions that the family adds to those of its materials."""
        return ()

    @property
    def softened(self) -> bool:
        """True where the solid has edge breaks or fillets that the outlines of `spans` may leave out."""
        return bool(self.edge_break > 0.0)

    def factors(self, case: LoadCase) -> Required:
        """The factors asked for under a load case."""
        return case.required or self.required

    @property
    def second(self) -> Any:
        """z of the plane that a second one alike stands mirrored in [mm]; None where one stands alone."""
        return None

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces, built once.

        Raises:
            InputError: the system lacks what the solid modeller needs.
        """
        from parts.core import kernel

        kernel.needed()
        return tuple(self.build())

    def solid(self) -> cq.Workplane:
        """The part as a CadQuery Workplane: its one solid, or all its pieces in place."""
        import cadquery as cq

        if len(self.pieces) == 1:
            return self.pieces[0].solid
        values: list[Any] = [value for piece in self.pieces for value in piece.solid.vals()]
        return cq.Workplane(obj=cq.Compound.makeCompound(values))

    def changed(self, values: Mapping[str, Any]) -> Self:
        """The part with some values changed, checked as if it came from a file.

        Args:
            values: new values by dotted path, as in `{"ears.depth": "24 mm"}`.

        Returns:
            The new part; this one stays as it was.

        Raises:
            KeyError: a path names no field.
            pydantic.ValidationError: a value does not fit its field.
            BrokenRules: the dimensions cannot be built, or should not be.
        """
        part = self
        for path, value in values.items():
            part = part._restated(path, value)
        refuse_too_thick(part)
        _ = part.metal
        refuse_broken(part)
        return part

    def _restated(self, path: str, value: Any) -> Self:
        owner, last = owner_of(self, path), steps_of(path)[-1]
        if isinstance(owner, Group) and owner.given() | owner.given_with(str(last), value):
            around = dotted(steps_of(path)[:-1])
            return with_values(self, {around: owner.restated(str(last), value)})
        return with_values(self, {path: parsed(self, path, value)})

    def check(self) -> Result[Self]:
        """Check the part under its load cases, from its dimensions alone."""
        from parts.core.search.result import check_part

        return check_part(self)

    def _repr_html_(self) -> str:
        from parts.core.notebook import summary

        return summary(self.check())

    @model_validator(mode="after")
    def _is_of_a_material_that_is_made_so(self) -> Part:
        refuse_too_thick(self)
        _ = self.metal
        return self

    @model_validator(mode="after")
    def _meets_the_rules(self) -> Part:
        refuse_broken(self)
        return self

    @model_validator(mode="after")
    def _has_loads_that_are_found(self) -> Part:
        refuse_lost_loads(self)
        return self
