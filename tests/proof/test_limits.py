"""What cannot be proved: one clear message each, the status of the command, and other parts that go on."""

import re
from pathlib import Path

import cadquery as cq
import pytest

pytest.importorskip("ngsolve", reason="needs the extra `proof`")

import spread
from proof_parts import options
from typer.testing import CliRunner

from parts.core.loads import Action
from parts.core.supports import Round
from parts.families.gusset.family import Gusset
from parts.proof import mesh as meshing
from parts.proof.elastic import Push, Solid, Springs, Stuff
from parts.proof.errors import ProofError
from parts.proof.mesh import meshed
from parts.proof.piece import stated
from parts.proof.prove import prove
from parts.proof.refine import Aim, settle
from parts.proof.surface import parted
from parts.proof.workers import prove_all
from parts.report.proof.text import text_of

GUSSET = Path(__file__).parents[2] / "params" / "hc-108-headstock-gusset.yaml"
STEEL = Stuff(2e5, 0.3)
ROUGH = Aim(error=0.5, steps=1)


def box():
    return cq.Workplane().box(40.0, 20.0, 10.0).val()


def pulled():
    """A bar on springs under a pull at its other end."""
    import numpy as np

    at = [
        i
        for x in (-20.0, 20.0)
        for i, f in enumerate(box().Faces())
        if abs(f.Center().x - x) < 1e-6
    ]
    springs = Springs("foot", (at[0],), 1e5 * np.eye(3))
    pull = Push((at[1],), (Action((20.0, 0.0, 0.0), np.array([1e3, 0.0, 0.0]), np.zeros(3)),))
    return Solid(STEEL, (), (springs,), ((pull,),))


def gusset():
    (part,) = spread.parts(Gusset, 1)
    return part


def test_a_sliver_is_named_with_its_place():
    solid = box().fuse(cq.Workplane().box(40.0, 20.0, 2.0).translate((0.002, 0.0, 6.0)).val())
    with pytest.raises(
        ProofError, match=r"sliver, an edge of 0\.002 mm at \(.*\) mm; move one of the dimensions"
    ):
        meshed(solid)


def test_a_mesh_that_fails_is_said_with_what_would_help(monkeypatch):
    monkeypatch.setattr(meshing, "LADDER", ())
    with pytest.raises(
        ProofError, match=r"no mesh of the solid came out whole .* move the dimension changed last"
    ):
        meshed(box())


@pytest.mark.slow
def test_a_mesh_that_fails_is_tried_finer():
    # A thin tube: elements as long as a seventh of it cannot follow its round wall.
    solid = cq.Workplane().circle(8.0).circle(7.2).extrude(100.0).val()
    found = meshed(solid)
    assert found.volume == pytest.approx(solid.Volume())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(meshing, "LADDER", meshing.LADDER[:1])
        with pytest.raises(ProofError, match="no mesh"):
            meshed(solid)


def test_a_load_on_no_face_says_where_the_face_should_be():
    bore = Round((3.0, 0.0, 0.0), (0.0, 0.0, 1.0), 8.0, -5.0, 5.0)
    with pytest.raises(
        ProofError,
        match=r"no face of the solid lies on the round wall of 8\.000 mm diameter about \(3\.00, 0\.00, 0\.00\)",
    ):
        parted(box(), [bore])


def test_more_unknowns_than_allowed_are_refused_with_both_numbers():
    with pytest.raises(
        ProofError, match=r"the coarsest mesh has \d+ unknowns where 300 are allowed; allow more"
    ):
        settle(meshed(box()), pulled(), Aim(unknowns=100))


def test_more_unknowns_than_the_memory_holds_are_refused_before_they_are_solved():
    with pytest.raises(
        ProofError, match=r"unknowns, which take some \d+ MB where 701 MB are allowed; allow more"
    ):
        settle(meshed(box()), pulled(), Aim(memory_mb=701))


def test_a_memory_limit_stops_the_refinement_and_says_so():
    found = settle(meshed(box()), pulled(), Aim(error=1e-4, memory_mb=740))
    assert not found.reached
    assert re.fullmatch(r"limit of \d+ unknowns, for 740 MB of memory", found.stopped)
    assert found.solved.unknowns <= Aim(memory_mb=740).bearable


def test_a_limit_that_is_hit_stands_at_the_top_with_the_error_it_reached():
    proof = prove(gusset(), Aim(error=0.001, seconds=0.01))
    head = text_of(proof).partition("\n\n")[0]
    assert "the error asked for was not reached" in head
    assert "% of the strain energy; stopped: limit of 0.01 s of processor time" in head


def test_a_part_whose_hand_calculation_is_wrong_is_found_out():
    class Wrong(Gusset):
        """Its solid bears half as much again as its hand calculation says."""

        def held(self, case):
            heavier = case.model_copy(
                update={
                    "forces": [
                        one.model_copy(update={"force": tuple(1.5 * f for f in one.force)})
                        for one in case.forces
                    ]
                }
            )
            return super().held(heavier)

    part = gusset()
    part.__class__ = Wrong
    proof = prove(part, ROUGH)
    first, second, *_ = text_of(proof).splitlines()
    assert "HAND AND FINITE ELEMENTS DISAGREE" in first
    assert "nominal stress, throat" in second and "believe the elements" in second
    assert not proof.ok


@pytest.mark.slow
def test_other_parts_go_on_and_keep_their_order():
    idle = gusset().model_copy(update={"name": "R-99", "loads": []})
    wanted = [idle, gusset()]
    first, second = prove_all(wanted, ROUGH, jobs=1)
    assert first.failed == ("R-99 has no load case; there is nothing to prove",)
    assert not second.failed and len(second.pieces) == 1


@pytest.mark.slow
def test_the_command_ends_with_3_where_a_part_cannot_be_proved(tmp_path):
    from parts.cli.commands import app

    done = CliRunner().invoke(
        app, ["prove", str(GUSSET), "--out", str(tmp_path), "--memory", "700"]
    )
    assert done.exit_code == 3
    assert "HC-108" in done.output and "allow" in done.output
    assert "Traceback" not in done.output


@pytest.mark.slow
def test_both_hands_of_a_forked_peg_are_meshed():
    """The mesher lays the same faces otherwise where they are mirrored: the right hand failed on every other step."""
    fork = next(one for name, one in options("foot-control bracket").items() if "fork" in name)
    for hand in ("left", "right"):
        part = fork.model_copy(update={"edge_break": 0.0, "hand": hand})
        _, _, mesh, _, _ = stated(part.pieces[0], part.held(part.loads[0]), Aim())
        assert mesh.mesh.ne > 1000
