"""Pieces of work: none is lost, none comes twice, and one that fails takes no other with it."""

import signal
import subprocess
import sys
import time

import pytest
from work_pieces import fatal, halved

from parts.running.pieces import Cores, Here, Lost
from parts.running.table import Table
from parts.running.versions import differing


@pytest.mark.parametrize("executor", [Here(), Cores(2)], ids=["here", "cores"])
def test_a_piece_that_fails_takes_no_other_with_it(executor):
    begun = []
    found = {
        one.key: one for one in executor.run(halved, {f"{n}": n for n in range(6)}, begun.append)
    }
    assert {key: one.value for key, one in found.items() if one.error is None} == {
        "0": 0, "2": 1, "4": 2,
    }  # fmt: skip
    assert {key: str(one.error) for key, one in found.items() if one.error} == {
        f"{n}": f"{n} is odd" for n in (1, 3, 5)
    }
    assert sorted(begun) == sorted(found)


@pytest.mark.slow
def test_a_process_that_is_ended_from_outside_loses_no_piece(tmp_path):
    pieces = {f"{n}": (str(tmp_path / "done") if n == 2 else "/", n) for n in range(5)}
    found = list(Cores(2).run(fatal, pieces))
    assert sorted(one.key for one in found) == sorted(pieces)
    assert {one.key: one.value for one in found} == {f"{n}": n for n in range(5)}


@pytest.mark.slow
def test_a_piece_that_ends_its_process_each_time_is_given_up_alone():
    found = {one.key: one for one in Cores(2).run(fatal, {f"{n}": (None, n) for n in range(3)})}
    assert isinstance(found["0"].error, Lost) and "memory" in str(found["0"].error)
    assert [found[key].value for key in ("1", "2")] == [1, 2]


def test_ctrl_c_ends_the_processes_too(tmp_path):
    code = (
        "import signal\nfrom work_pieces import slept\nfrom parts.running.pieces import Cores\n"
        "if __name__ == '__main__':\n"
        # Whoever runs the tests in the background may leave Ctrl-C ignored.
        "    signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        f"    list(Cores(2).run(slept, {{str(n): ({str(tmp_path)!r}, n, 60.0) for n in range(2)}},\n"
        "         lambda key: print(key, flush=True)))\n"
    )
    script = tmp_path / "main.py"
    script.write_text(code)
    path = [p for p in sys.path if p]
    run = subprocess.Popen(
        [sys.executable, str(script)], env={"PYTHONPATH": ":".join(path)}, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert [run.stdout.readline().strip() for _ in range(2)] == ["0", "1"]
    run.send_signal(signal.SIGINT)
    start = time.monotonic()
    run.communicate(timeout=50)
    assert run.returncode != 0 and time.monotonic() - start < 50.0
    assert [one.name for one in tmp_path.iterdir()] == ["main.py"]


def test_a_table_goes_on_where_a_run_was_stopped(tmp_path):
    file = tmp_path / "rows.csv"
    wanted = {"1": "a", "2": "b", "3": "c", "4": "d"}
    first = Table(file, ("mass", "said"), wanted)
    for key in ("3", "1", "3"):
        first.add(key, {"mass": 0.1 * int(key), "said": f'"{key}", so\nto say'})
    assert first.left == ["2", "4"]
    with file.open("ab") as stream:
        stream.write(b'2,b,0.2,"torn')  # killed while it wrote
    again = Table(file, ("mass", "said"), wanted)
    assert again.left == ["2", "4"] and again.rows["3"]["said"] == '"3", so\nto say'
    for key in again.left:
        again.add(key, {"mass": 0.1 * int(key), "said": ""})
    again.close()
    assert [line.split(",")[0] for line in file.read_text().splitlines() if line[:1].isdigit()] == [
        "1", "2", "3", "4",
    ]  # fmt: skip
    # A row that hangs on something else now is done again, and other columns are another table.
    assert Table(file, ("mass", "said"), {**wanted, "2": "B"}).left == ["2"]
    assert Table(file, ("mass",), wanted).left == ["1", "2", "3", "4"]


def test_versions_that_differ_are_named():
    here = {"python": "3.12.1", "numpy": "2.0", "oneoff-parts": "0" * 64}
    assert differing(here, dict(here)) == ""
    assert differing(here, {**here, "numpy": "1.9"}) == "numpy 1.9 there, 2.0 here"
    assert "none there" in differing(here, {"python": "3.12.1", "numpy": "2.0"})
