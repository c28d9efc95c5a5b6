"""Rows of a sweep by their solids: what each part says that is made alone; a run that was stopped goes on."""

import pytest
import yaml

from parts.families import families
from parts.folders.swept_rows import AGREE, HOLDS, SHORT, proof_row, rows_by
from parts.making.model import model
from parts.running.pieces import Here
from parts.study.sweep import sweep_part


class Stopped(Here):
    """Ends, as by Ctrl-C, after so many rows."""

    def __init__(self, many):
        self.many = many

    def run(self, work, pieces, begun=lambda _: None):
        for done in super().run(work, pieces, begun):
            yield done
            self.many -= 1
            if not self.many:
                raise KeyboardInterrupt


@pytest.fixture(scope="module")
def swept(tmp_path_factory):
    file = tmp_path_factory.mktemp("rows") / "part.yaml"
    file.write_text(yaml.safe_dump(families()["spacer"].example, sort_keys=False))
    size = float(families()["spacer"].example["length"].split()[0])
    return sweep_part(file, [f"length={size} mm to {size + 6.0} mm in 3"])


def test_rows_are_what_each_part_says_that_is_made_alone_and_go_on_where_they_stopped(
    swept, tmp_path
):
    file, begun = tmp_path / "solids.csv", []
    with pytest.raises(KeyboardInterrupt):
        rows_by(swept, file, Stopped(1), begun=begun.append)
    table, lost = rows_by(swept, file, Here(), begun=begun.append)
    assert begun == ["1", "2", "3"] and not lost
    for row in range(3):
        alone = model(swept.part(row))
        told = table.rows[f"{row + 1}"]
        assert float(told["mass_kg"]) == pytest.approx(alone.mass, rel=1e-8)
        assert float(told["factor"]) == pytest.approx(
            float(alone.result.governing.factor), rel=1e-8
        )
        assert told["governing"] == alone.result.governing.name
        assert told["verdict"] == (HOLDS if alone.result.ok else SHORT)
    assert rows_by(swept, file, Here(), begun=begun.append)[0].rows == table.rows
    assert len(begun) == 3


@pytest.mark.slow
def test_a_row_is_proved_as_its_part_alone(swept):
    pytest.importorskip("ngsolve")
    found = proof_row(swept.document(0))
    assert found["verdict"] == AGREE and found["unsafe"] == 0 and found["pieces"] == 1
