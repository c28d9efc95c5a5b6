"""What people read of a proof: the report's top, its JSON, the page, and that no proof outlives its part."""

import json
import re
from dataclasses import replace
from importlib.resources import files

import jsonschema
import pytest
from stated import changed, part_of

from parts.families import families
from parts.folders.part_files import make_part
from parts.folders.proof_files import prove_parts
from parts.making.model import model
from parts.proof.prove import prove
from parts.proof.records import Beside, CaseProof, PieceProof, Proof, Spot
from parts.proof.refine import Aim
from parts.report.document import json_bytes
from parts.report.proof.text import summary
from parts.report.text import WIDTH, text_report

pytest.importorskip("ngsolve", reason="needs the extra `proof`")
ROUGH = Aim(error=0.5, steps=1)
"""The first mesh is enough: what is tested here is what is said of it."""


def proof(fe=100.0):
    """A proof of one number by hand, 100 MPa, beside one by finite elements."""
    one = Beside("nominal stress", 100.0, fe, "MPa", 0.85, 1.10, "a reason")
    case = CaseProof(
        "landing", "strap", (1.0, 2.0, 3.0), {"N": 1.0}, {"N": 1.0},
        dict.fromkeys(("axial", "bending", "shear", "torsion"), 1.0),
        Spot((0.0, 0.0, 0.0), fe, (-1.0, 0.0, fe)), 2.5, (one,), {"bolt 1": (3.0, 4.0, 0.0)}, 1e-12,
        {"peg": (0.0, 0.0, 0.1)}, 1e4, None,
    )  # fmt: skip
    piece = PieceProof(
        "plate", "steel", 2e5, 0.3, 1000, 100, 2, 0.1, ((1000, 0.1),), "error reached", True, 1.0, (case,), (500.0,)
    )  # fmt: skip
    return Proof("HC-108", (piece,))


@pytest.fixture(scope="module")
def tab():
    """A small part with one load case, for what is tested here is what is said of a proof."""
    family = families()["frame tab"]
    return part_of(family, changed(family.example, name="HC-108"))


def head(text):
    """What stands above the table of checks, on one line."""
    return " ".join(text.partition(" check ")[0].split())


def test_the_text_reports_top_says_when_hand_and_finite_elements_disagree(tab):
    result = tab.check()
    agree, apart = (text_report(result, proof(fe)) for fe in (100.0, 130.0))
    assert "hand and finite elements agree within their bands" in head(agree)
    assert "HAND AND FINITE ELEMENTS DISAGREE in 1 number on the unsafe side" in head(apart)
    assert "landing: nominal stress: by hand 100, elements 130 MPa; believe the elements" in head(
        apart
    )
    assert "finite elements" not in head(text_report(result))
    assert max(map(len, apart.splitlines())) <= WIDTH


def test_what_is_not_proved_is_at_the_top_too(tab):
    failed = Proof("HC-108", (), ("HC-108, plate: no mesh of the solid came out whole",))
    assert "no mesh of the solid came out whole" in head(text_report(tab.check(), failed))


def test_the_json_report_holds_the_proof_by_its_schema(tab):
    document = json.loads(json_bytes([tab.check()], {}, {"HC-108": proof(130.0)}))
    schema = json.loads(files("parts.report").joinpath("report.schema.json").read_text())
    jsonschema.Draft202012Validator(schema).validate(document)
    found = document["parts"][0]["proof"]
    assert found["ok"] is False and found["pieces"][0]["cases"][0]["beside"][0]["ratio"] == 1.3
    assert found["not_covered"]


def test_a_hand_value_of_nothing_is_no_number_that_json_cannot_hold(tab):
    one = Beside("torsion", 0.0, 1.0, "MPa", 0.5, 1.5, "a reason")
    whole = proof()
    case = whole.pieces[0].cases[0]
    case = CaseProof(**{**vars(case), "beside": (one,)})
    piece = PieceProof(**{**vars(whole.pieces[0]), "cases": (case,)})
    document = json.loads(json_bytes([tab.check()], {}, {"HC-108": Proof("HC-108", (piece,))}))
    found = document["parts"][0]["proof"]["pieces"][0]["cases"][0]["beside"][0]
    assert found["ratio"] is None and found["ok"] is False


@pytest.fixture(scope="module")
def proved(tab, tmp_path_factory):
    """The folder of a part that was made first and proved after, and what was written."""
    folder = tmp_path_factory.mktemp("out")
    make_part(tab, folder)
    (written,) = prove_parts([tab], folder, ROUGH, jobs=1)
    return folder, written


@pytest.mark.slow
def test_proving_a_made_part_puts_the_proof_in_its_report_and_page(proved):
    folder, written = proved
    own = folder / "HC-108"
    assert written.reported
    assert written.proof.skins and not written.proof.failed
    assert re.search(r"HC-108: 2 pieces|HC-108: 1 piece", (own / "report.txt").read_text())
    (entry,) = json.loads((own / "report.json").read_text())["parts"]
    assert entry["proof"]["pieces"][0]["cases"]
    page = (own / "index.html").read_text()
    assert 'id="proof"' in page and 'id="stressed-1"' in page and "proof.txt" in page


@pytest.mark.slow
def test_the_same_report_comes_of_the_same_proof(proved, tab):
    """What it took, which differs from run to run, is in the files of the proof and nowhere else."""
    folder, _ = proved
    text = (folder / "HC-108" / "report.json").read_text()
    assert not re.search(r'"(seconds|memory)\w*":', text)


@pytest.mark.slow
def test_a_proof_of_a_part_that_was_not_made_stands_alone_and_says_so(tab, tmp_path):
    (written,) = prove_parts([tab], tmp_path, ROUGH, jobs=1, pictures=False)
    assert not written.reported
    assert {one.name for one in (tmp_path / "HC-108").iterdir()} == {"proof.txt", "proof.json"}


def test_a_proof_never_enters_the_report_of_another_state_of_the_part(tab, tmp_path):
    from parts.folders.proved import reported

    other = json.loads(json_bytes([model(tab)]))
    other["parts"][0]["mass_kg"] += 0.001
    assert reported(tab, {"report.json": json.dumps(other).encode()}, proof()) == {}
    assert reported(tab, {"report.json": b"{"}, proof()) == {}


def test_making_a_part_anew_drops_the_proof_of_the_old_one(tab, tmp_path):
    own = tmp_path / "HC-108"
    own.mkdir()
    stale = ("proof.txt", "proof.json", "proof-left.png")
    for name in (*stale, "notes.txt"):
        (own / name).write_text("old")
    make_part(tab, tmp_path)
    left = {one.name for one in own.iterdir()}
    assert not left & set(stale) and "notes.txt" in left


def test_buckling_that_did_not_settle_is_said_at_the_top(tab):
    found = prove(tab, replace(ROUGH, unknowns=1000))
    assert found.pieces[0].unsettled
    assert "first buckling factors did not settle" in " ".join([*summary(found)][1:2])
