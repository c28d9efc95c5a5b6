"""What the families of adjustable links have in common: two ends that screw into one body, its lengths and loads."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.freebody import Acting
from parts.core.loadpath import Span, placed
from parts.core.loads import Action, ByCase, LoadCase
from parts.core.part import Bought, Part, Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.links.adjustment import USUAL_ENGAGEMENT, Adjustment, Mouth, PinToPin
from parts.families.links.body import LinkBody
from parts.families.links.clevis_end import HALF_TURN, ClevisEnd
from parts.families.links.link_column import LinkColumn, column_modes
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.sites import AtEnd, BetweenEnds, EndLoad
from parts.families.links.statics import Borne, borne, load_rules
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.press.pressed import coating_facts
from parts.features.weld.tube_weld import Bears
from parts.inputs.quantities import NonNegativeLength, NonNegativeRatio, PositiveLength
from parts.strength.columns import column
from parts.strength.columns import link as link_
from parts.strength.method import Worked, plain, work

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.feature import Feature
    from parts.core.supports import Held
    from parts.core.weldment import Weldment
    from parts.standards.stock.stock import Stock

    _ends: tuple[type[Feature[AtEnd]], ...] = (RodEndEnd, ClevisEnd)

ABOUT_PINS = np.array([0.0, 0.0, 1.0])


class LinkPart(Part):
    """A body on two ends that screw in; a family adds `end_a`, `end_b` and `body`."""

    pin_to_pin: PinToPin = Field(description="The lengths that it must have, pin to pin.")
    length: PositiveLength | None = Field(
        None, description="Length at which it is drawn and loaded; the nominal one where left out."
    )
    engagement: PositiveLength | None = Field(
        None, description="Least full thread engaged at the longest; 1.5 diameters where left out."
    )
    eccentricity: NonNegativeLength = Field(
        0.5, description="How far the load may stand off the axis at both ends."
    )
    shaken: NonNegativeRatio = Field(
        0.0, description="Acceleration across the link in g, for its own weight at speed."
    )

    @property
    def ends(self) -> tuple[RodEndEnd | ClevisEnd, RodEndEnd | ClevisEnd]:
        """The ends at a and b."""
        return self.end_a, self.end_b  # type: ignore[attr-defined]

    @property
    def between(self) -> LinkBody:
        """The body between the ends."""
        return self.body  # type: ignore[attr-defined,no-any-return]

    def mouth(self, i: int, least: Any) -> Mouth:
        """The tapped mouth of the body at end i, for the least engagement [mm] there."""
        raise NotImplementedError(f"{type(self).__name__} does not say what its ends screw into")

    @property
    def wanted(self) -> tuple[Any, Any]:
        """Least full thread engaged at each end [mm]."""
        a, b = (
            USUAL_ENGAGEMENT * end.thread.major if self.engagement is None else self.engagement
            for end in self.ends
        )
        return a, b

    @cached_property
    def link(self) -> Adjustment:
        """Lengths and engagement."""
        wanted = self.wanted
        return self.adjusted((self.mouth(0, wanted[0]), self.mouth(1, wanted[1])))

    def adjusted(self, mouths: tuple[Mouth, Mouth]) -> Adjustment:
        """Lengths and engagement with these mouths of the body."""
        length = self.body.length  # type: ignore[attr-defined]
        return Adjustment(self.pin_to_pin, self.ends, mouths, self.wanted, length)

    @property
    def assembled(self) -> Any:
        """Length at which it is drawn and loaded [mm]."""
        return self.pin_to_pin.nominal if self.length is None else self.length

    def points(self) -> Mapping[str, Any]:
        half = np.asarray(self.assembled, float) / 2.0
        along = np.array([1.0, 0.0, 0.0])
        return {
            "end a": -half[..., None] * along,
            "end b": half[..., None] * along,
            "middle": np.zeros(3),
        }

    def stock_thickness(self) -> Any:
        return self.between.stock_thickness()

    # --- what it bears ----------------------------------------------------------------------------------

    def borne(self, case: LoadCase) -> Borne:
        """What both ends and the middle bear under a load case."""
        return self._borne(case)

    @cached_property
    def _borne(self) -> ByCase[Borne]:
        lengths = (self.pin_to_pin.minimum, self.pin_to_pin.maximum)
        return ByCase(partial(borne, points=self.points(), lengths=lengths))

    @cached_property
    def column(self) -> LinkColumn:
        """The link as a column."""
        body = self.between.column(self.link, self.metal)
        a, b = self.ends
        shanks = (a.made_of(self.metal), b.made_of(self.metal))
        return LinkColumn(
            body, self.link, shanks, self.eccentricity, (a.rubbing, b.rubbing), self.shaken
        )

    def _beside(self, case: LoadCase, i: int, lever: Any) -> Worked:
        """What bends the link at a lever from the pin of end i beside the forces across it [N*mm]."""
        return self.column.beside(self.borne(case), i, lever, self.factors(case).on_ultimate)

    def _rubbed(self, case: LoadCase, i: int, lever: Any) -> Worked:
        """The part of `_beside` that changes its sign with every swing, as service makes it [N*mm]."""
        return self.column.rubbed(self.borne(case), i, lever)

    def _bending(self, case: LoadCase, i: int, lever: Any) -> Worked:
        """The largest moment at a lever from the pin of end i, in whatever plane, at the longest [N*mm]."""
        load, L = self.borne(case), self.pin_to_pin.maximum
        shaking = work(column.inertia_load, m=self.column.body.mass_per_length, n=self.shaken)
        moment = np.asarray((load.a, load.b)[i].moment)
        side = load.on_end(i).sideways + 0.5 * shaking.value * L
        given = np.hypot(moment[..., 1], moment[..., 2]) + side * lever
        return work(link_.moments_together, M_1=given, M_2=self._beside(case, i, lever))

    def _end_load(self, i: int, case: LoadCase) -> EndLoad:
        load, bare = self.borne(case), self.link.bare(i, self.pin_to_pin.maximum)
        return EndLoad(
            load.on_end(i),
            self._bending(case, i, bare),
            self._rubbed(case, i, bare),
            load.twist,
        )

    def _bears(self, case: LoadCase, i: int, from_face: Any) -> Bears:
        load, longest = self.borne(case), self.pin_to_pin.maximum
        lever = np.minimum(self.link.bare(i, longest) + from_face, longest / 2.0)
        force = load.on_end(i)
        return Bears(
            force.pull, force.sideways, plain(self._bending(case, i, lever)), load.twist,
            plain(self._rubbed(case, i, lever)),
        )  # fmt: skip

    # --- where its ends and its body stand --------------------------------------------------------------

    @cached_property
    def end_sites(self) -> tuple[AtEnd, AtEnd]:
        """Where the ends stand."""
        a, b = (self._end_site(i) for i in (0, 1))
        return a, b

    def _end_site(self, i: int) -> AtEnd:
        end, name = self.ends[i], "ab"[i]
        turn = np.eye(3) if i else HALF_TURN
        return AtEnd(
            f"end_{name}", self.metal, f"end {name}", self.edge_break, at=self.points()[f"end {name}"],
            turn=turn, piece=f"clevis-{name}", required=self.factors, loads=self.loads, i=i, link=self.link,
            male=end.made_of(self.metal), female=partial(self.between.female, i, self.link, self.metal),
            face=self.between.face(i), load=ByCase(partial(self._end_load, i)),
            pins=partial(self._pins, i), actions=lambda case: [*self._pins(i, case), self._bow(i, case, turn)],
            reversing=lambda case: [self._bow(i, case, turn, rubbed=True)],
        )  # fmt: skip

    @cached_property
    def body_site(self) -> BetweenEnds:
        """Where the body stands."""
        return BetweenEnds(
            "body", self.metal, edge_break=self.edge_break, required=self.factors, link=self.link,
            ends=self.end_sites, start=self.link.face(self.assembled), bears=self._bears,
            beyond=lambda case, side: (*self.borne(case).beyond(side), self._body_bow(case)),
            reversing=lambda case, side: (self._bowed(case, rubbed=True),),
            middle=lambda case: self.borne(case).middle, at_end=self._at_end,
            pushed=lambda case: (self.borne(case).push, self._pushed_and_bent(case)), eccentricity=self.eccentricity,
        )  # fmt: skip

    def _pushed_and_bent(self, case: LoadCase) -> Worked:
        """Largest compressive stress at the middle [MPa]."""
        return self.column.bent(self.borne(case), self.shaken, self.factors(case).on_ultimate)

    def _pins(self, i: int, case: LoadCase) -> list[Action]:
        """What the pin does to an end, in the end's own axes, at whichever length it is most."""
        load, force = self.borne(case), self.borne(case).on_end(i)
        turn, way = (np.eye(3), 1.0) if i else (HALF_TURN, -1.0)
        own = np.stack(
            np.broadcast_arrays(force.pull, way * force.across, force.along_pin), axis=-1
        )
        return [Action(np.zeros(3), own, np.asarray((load.a, load.b)[i].moment) @ turn)]

    def _at_end(self, case: LoadCase, i: int) -> list[Action]:
        """What an end does to the body, with what bends the link beside."""
        load, bow = self.borne(case), self._body_bow(case)
        if i:
            return [load.b, bow]
        return [load.a, Action(bow.at, bow.force, -np.asarray(bow.moment))]

    def _bow(self, i: int, case: LoadCase, turn: np.ndarray, *, rubbed: bool = False) -> Action:
        """What bends an end's shank beside its pin's forces, in the plane in which they bend it, in its own axes."""
        bare = self.link.bare(i, self.pin_to_pin.maximum)
        (pin,) = self._pins(i, case)
        along = np.asarray(bare, float)[..., None] * np.array([1.0, 0.0, 0.0])
        rest = np.cross(along, pin.force) + pin.moment
        bent = self._rubbed(case, i, bare) if rubbed else self._beside(case, i, bare)
        return _couple(plain(bent), rest)

    @cached_property
    def _body_bow(self) -> ByCase[Action]:
        return ByCase(self._bowed)

    def _bowed(self, case: LoadCase, *, rubbed: bool = False) -> Action:
        """What bends the body beside the forces of the path: a load off its axis, friction, what a push adds, and the
        longer lever at the longest; in the plane of the rest, and for corners in any plane."""
        load, longest = self.borne(case), self.pin_to_pin.maximum
        bent = plain((self._rubbed if rubbed else self._beside)(case, 0, longest / 2.0))
        if not rubbed:
            longer = 0.5 * (longest - np.asarray(self.assembled, float))
            bent = bent + longer * np.maximum(load.on_end(0).sideways, load.on_end(1).sideways)
        half = np.asarray(self.points()["end b"], float)
        rest = np.cross(half, load.b.force) + np.asarray(load.b.moment)
        return _couple(self.between.slant() * bent, rest)

    # --- rules, path and checks -------------------------------------------------------------------------

    def rules(self) -> Iterator[Rule]:
        for end, site in zip(self.ends, self.end_sites, strict=True):
            yield from end.rules(site)
        yield from self.link.rules(self.assembled)
        yield from self.between.rules(self.body_site)
        yield from load_rules(self.loads, (self.ends[0].joint, self.ends[1].joint))

    def spans(self) -> Sequence[Span]:
        found = list(self.between.spans(self.body_site))
        for end, site in zip(self.ends, self.end_sites, strict=True):
            found += [
                placed(replace(span, reversing=site.reversing), site.at, site.turn)
                for span in end.spans(site)
            ]
        return found

    def kinds(self) -> Sequence[Kind]:
        ends = zip(self.ends, self.end_sites, strict=True)
        return [
            *self.between.kinds(self.body_site),
            *(one for end, site in ends for one in end.kinds(site)),
        ]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from column_modes(
            self.column, self.borne(case), self.shaken, case.name, self.factors(case)
        )
        for end, site in zip(self.ends, self.end_sites, strict=True):
            yield from end.modes(site, case)
        yield from self.between.modes(self.body_site, case)

    def standing(self) -> Iterator[Check]:
        for end, site in zip(self.ends, self.end_sites, strict=True):
            yield from end.standing(site)

    def details(self) -> Sequence[Detail]:
        found: list[Detail] = []
        for end, site in zip(self.ends, self.end_sites, strict=True):
            found += end.details(site, self.checks_under)
        return [*found, *self.between.details(self.body_site, self.checks_under)]

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        return self.borne(case).holding(case, self.points())

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Held, held_in, turned

        found = list(self.between.held(self.body_site, case))
        for end, site in zip(self.ends, self.end_sites, strict=True):
            if supports := end.supports(site):
                where = site.turn, site.at
                loads = turned(end.applied(site, case), *where)
                found.append(Held(site.piece, held_in(supports, *where), loads))
        return found

    # --- what else a builder wants to know --------------------------------------------------------------

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = dict(self.link.facts(self.assembled))
        found |= self.between.facts(self.body_site)
        for end, site in zip(self.ends, self.end_sites, strict=True):
            found[f"tapped depth at {site.name}"] = (self.link.mouths[site.i].depth, "mm")
            found |= end.facts(site)
        return found | coating_facts(self.finish, self.metal)

    def bought(self) -> Sequence[Bought]:
        return [
            one
            for end, site in zip(self.ends, self.end_sites, strict=True)
            for one in end.bought(site)
        ]

    def clearances(self) -> Sequence[Clearance]:
        ends = zip(self.ends, self.end_sites, strict=True)
        return [
            *self.between.clearances(self.body_site),
            *(one for end, site in ends for one in end.clearances(site)),
        ]

    def cautions(self) -> Sequence[str]:
        ends = list(zip(self.ends, self.end_sites, strict=True))
        touching = {k: v for end, site in ends for k, v in end.touching(site).items()}
        metals = {one.name: one for one in (site.female() for site in self.end_sites)}
        return [
            *(said for one in metals.values() for said in galvanic_cautions(one, touching)),
            *self.link.cautions(),
            *self.between.cautions(self.body_site),
            *(said for end, site in ends for said in end.cautions(site)),
            "Mark the left-hand end: a groove round bung, bar or nut (common practice, no source)."
            if self.link.opposite
            else "With both threads of one hand, one end comes off its pin to change the length.",
        ]

    def drawn(self) -> Sequence[Drawn]:
        sheets = list(self.between.drawn(self.body_site))
        for end, site in zip(self.ends, self.end_sites, strict=True):
            sheets += end.drawn(site)
        return sheets

    def weldment(self) -> Weldment | None:
        return self.between.weldment(self.body_site)

    def build(self) -> Sequence[Piece]:
        pieces = list(self.between.pieces(self.body_site))
        for end, site in zip(self.ends, self.end_sites, strict=True):
            pieces += end.pieces(site)
        return pieces

    def cut_from(self, piece: str) -> Stock | None:
        return self.between.cut_from(piece)


def _couple(moment: Any, rest: Any) -> Action:
    """A moment [N*mm] across the link in the plane in which the rest bends it; about the pins where nothing does."""
    across = np.asarray(rest, float) * np.array([0.0, 1.0, 1.0])
    size = np.linalg.norm(across, axis=-1)[..., None]
    way = np.where(size > 0.0, across / np.where(size > 0.0, size, 1.0), ABOUT_PINS)
    return Action(np.zeros(3), np.zeros(3), np.asarray(moment, float)[..., None] * way)
