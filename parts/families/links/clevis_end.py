"""A made clevis on the end of a link: ears, pin and a male thread with its jam nut.

Axes of the feature are those of `parts.features.fork.fork`: the pin at the origin, the ears toward +x.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.group import Group
from parts.core.loads import Action, LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_most
from parts.core.ways import Kind
from parts.families.links.rod_end import EndForce, JamNutLock, jam_modes
from parts.features.fork.fork import Ears, RodEndThroat
from parts.features.section.outlines import chamfered
from parts.features.thread import threaded
from parts.features.thread.shank import Body, MaleThread, Neck
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.fasteners.jam_nuts import JamNut, jam_nut
from parts.standards.materials.materials import Material, material
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.loadpath import Span

HALF_TURN = np.diag([-1.0, -1.0, 1.0])
"""From the axes of a clevis at end a to those of the link."""

Actions = Callable[[LoadCase], Sequence[Action]]


class ClevisEnd(Group):
    """A made clevis with a male thread."""

    type: Literal["clevis"] = Field(
        "clevis", description="A made clevis with a male thread and a jam nut."
    )
    ears: Ears = Field(description="The ears, their throat and their pin.")
    shank_thread: ThreadName = Field(description="Thread of the shank, with its hand.")
    thread_length: PositiveLength = Field(
        description="From the shoulder to the tip of the thread, undercut included."
    )
    undercut: bool = Field(True, description="Cut a relief groove at the shoulder.")
    neck: Neck | None = Field(
        None, description="Round neck with wrench flats between body and thread."
    )
    material: MaterialName | None = Field(
        None, description="Material of the clevis, as bar; that of the tube or bar where left out."
    )
    root_fillet: NonNegativeLength = Field(
        1.0, description="Fillet where a neck leaves the body; 0 leaves it sharp."
    )
    jam_nut: JamNutLock = Field(default_factory=JamNutLock, description="The jam nut.")

    @property
    def thread(self) -> Any:
        return self.shank_thread

    @cached_property
    def nut(self) -> JamNut:
        return jam_nut(self.shank_thread.designation)

    @cached_property
    def shank(self) -> MaleThread:
        """The male thread behind the ears; what it must engage is the link's to say."""
        return MaleThread.model_construct(
            type="male thread", thread=self.shank_thread, length=self.thread_length,
            engagement=self.shank_thread.major, undercut=self.undercut, neck=self.neck, mate=None,
        )  # fmt: skip

    @property
    def reach(self) -> Any:
        """Pin to the tip of the shank [mm]."""
        return self.ears.back + self.shank.shoulder + self.thread_length

    @property
    def full_thread(self) -> Any:
        """Full thread, counted from the tip [mm]."""
        return self.thread_length - self.shank.run_out()

    def metal(self, link: Material) -> Material:
        """What it is made of, as bar of its size."""
        name = link.name if self.material is None else self.material.name
        size = np.maximum(self.ears.width, self.ears.height)
        return material(name, thickness_mm=float(np.max(size)), form="bar")

    def body(self, edge_break: Any) -> Body:
        """The back of the ears, on which the shank stands."""
        e = self.ears
        return Body(e.width, e.height, e.back, e.floor_thickness, edge_break, self.root_fillet, 0.0)

    def rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        """Rules of the clevis; `field` is its dotted path."""
        yield from self.ears.rules(f"{field}.ears")
        yield from self.ears.break_rules("edge_break", edge_break)
        yield at_most(
            "clevis.fillet", f"{field}.root_fillet", self.root_fillet,
            np.minimum(10.0, self.ears.floor_thickness - 1.0),
            "the root fillet is larger than the metal behind the throat", "lessen the root fillet",
        )  # fmt: skip
        path = {
            f"{field}.shank.length": f"{field}.thread_length",
            f"{field}.shank.thread": f"{field}.shank_thread",
        }
        for rule in self.shank.rules(f"{field}.shank", self.body(edge_break)):
            own = path.get(rule.field, rule.field.replace(f"{field}.shank.", f"{field}."))
            yield replace(rule, field=own)

    def spans(
        self, name: str, link: Material, edge_break: Any, actions: Actions, piece: str
    ) -> list[Span]:
        """The load path from the pin to the thread, in the clevis's own axes.

        Args:
            name: prefix of the spans' names.
            link: material of the link.
            edge_break: chamfer of its edges [mm].
            actions: what acts at the pin for a load case, in the clevis's own axes.
            piece: the piece that it is.

        Returns:
            The spans.
        """
        metal, body, ears = self.metal(link), self.body(edge_break), self.ears
        found = [
            *ears.spans(f"{name}, ear", metal, edge_break, actions, piece),
            self._block(f"{name}, body", metal, edge_break, actions, piece),
            *ears.floor_spans(
                f"{name}, floor of the throat",
                metal,
                edge_break,
                actions,
                self.shank.backs(body),
                piece,
            ),
        ]
        shank = self.shank.spans(body, metal, actions)
        return [*found, *(replace(s, name=f"{name}, {s.name}", piece=piece) for s in shank)]

    def _block(self, name: str, metal: Material, c: Any, actions: Actions, piece: str) -> Span:
        from parts.core.loadpath import Span, smooth

        ears = self.ears

        def outline(t: Any) -> Outline:
            return chamfered(ears.width + 0.0 * np.asarray(t), ears.height, c)

        def at(x: Any) -> Any:
            return np.stack(np.broadcast_arrays(-np.asarray(x, float), 0.0, 0.0), axis=-1)

        return Span(
            name,
            at(ears.depth + c),
            at(ears.back - c),
            np.eye(3),
            outline,
            actions,
            metal,
            piece,
            5,
            smooth,
        )

    def kinds(self, name: str) -> list[Kind]:
        """What can fail of it."""
        return [*self.ears.kinds(f"{name} ear"), Kind("male thread", name), Kind("jam nut", name)]

    def modes(
        self,
        name: str,
        link: Material,
        case: LoadCase,
        action: Action,
        bow: Any,
        edge_break: Any,
        required: Required,
    ) -> Iterator[Check]:
        """Ears, pin, the bent thread and the jam nut.

        Args:
            name: prefix of the checks' names.
            link: material of the link.
            case: the load case.
            action: what the pin does, in the clevis's own axes.
            bow: moment on the shank from the load's eccentricity [N*mm].
            edge_break: chamfer of its edges [mm].
            required: the factors asked for.

        Returns:
            The checks.
        """
        metal = self.metal(link)
        yield from self.ears.modes(f"{name} ear", metal, case, [action], required)
        force, moment = self.body(edge_break).carried(
            [action], self.shank.shoulder + self.shank.run_out()
        )
        # In the plane in which the rest bends it most.
        bent = np.hypot(moment[..., 1], moment[..., 2])
        still = bent == 0.0
        share = np.asarray(bow, float) / np.where(still, 1.0, bent)
        moment = moment + np.stack(
            [0.0 * share, np.where(still, share, share * moment[..., 1]), share * moment[..., 2]],
            axis=-1,
        )
        yield from threaded.tension_modes(
            f"{name} shank", self.thread, metal, force[..., 0], case.name, required
        )
        yield from threaded.combined_modes(
            f"{name} shank", self.thread, metal, force, moment, case.name, required
        )
        pin = EndForce(force[..., 0], force[..., 1], force[..., 2])
        yield from jam_modes(
            name, self.jam_nut, self.thread, metal.yield_strength, metal.shear_ultimate, pin, case.name,
            required
        )  # fmt: skip

    def details(self, name: str, link: Material, modes: Any) -> Sequence[Detail]:
        """The thread of the shank; `modes` gives the part's checks under a load case."""
        stress = demand_of(modes, f"{name} shank thread, pull with bending, ultimate")
        return [thread_spot(f"{name} shank", self.thread, self.metal(link), stress)]

    def solid(self, edge_break: float) -> cq.Workplane:
        """The clevis, its pin at the origin."""
        fork = self.ears.solid(edge_break)
        return self.shank.join(fork, self.body(edge_break))

    def facts(self, name: str, link: Material) -> dict[str, tuple[Any, str]]:
        """The throat, what rides in it, and the jam nut's torque."""
        torque = self.jam_nut.tightening(self.thread, self.metal(link).yield_strength)
        found: dict[str, tuple[Any, str]] = {
            f"throat at end {name}": (self.ears.throat.width, "mm"),
            f"jam nut torque at end {name}": (torque / 1000.0, "N*m"),
        }
        if isinstance(self.ears.throat, RodEndThroat):
            found[f"swing to one side at end {name}"] = (
                np.degrees(self.ears.throat.swing()),
                "deg",
            )
        return found

    def bought(self, name: str) -> list[Bought]:
        """The jam nut and the pin."""
        return [
            Bought(f"jam nut {self.thread.designation}", 1, f"end {name}", self.nut.source),
            *self.ears.pin_bought(f"end {name}"),
        ]


def placed(span: Span, turn: np.ndarray, at: Any) -> Span:
    """A span in the axes of a clevis put into those of its link.

    Args:
        span: the span.
        turn: rotation, shape (3, 3).
        at: where the clevis's origin lies [mm], shape (..., 3).

    Returns:
        The span; so are its actions.
    """
    move = np.asarray(at, float)

    def there(case: LoadCase) -> Sequence[Action]:
        return [
            Action(np.asarray(one.at) @ turn.T + move, np.asarray(one.force) @ turn.T,
            np.asarray(one.moment) @ turn.T)
            for one in span.actions(case)
        ]  # fmt: skip

    return replace(
        span,
        start=np.asarray(span.start) @ turn.T + move,
        end=np.asarray(span.end) @ turn.T + move,
        axes=np.asarray(span.axes) @ turn.T,
        actions=there,
    )
