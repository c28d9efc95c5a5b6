"""Where everything is installed, a test that is skipped for something missing fails."""

import os
import subprocess
import sys
from pathlib import Path

SKIPS = """
import pytest

def test_of_a_library():
    pytest.importorskip("no_such_library")

@pytest.mark.skipif(True, reason="ccx is not installed")
def test_of_a_program():
    pass

def test_of_a_case():
    pytest.skip("no such class, or a small size, where the formula does not hold")
"""


def test_a_missing_extra_fails_where_all_is_needed(tmp_path):
    (tmp_path / "conftest.py").write_text(Path(__file__).with_name("conftest.py").read_text())
    (tmp_path / "test_skipping.py").write_text(SKIPS)
    (tmp_path / "test_module.py").write_text(
        'import pytest\npytest.importorskip("no_such_library")\n'
    )
    said = {}
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
    for needed in ("", "needed"):
        said[needed] = subprocess.run(
            [*command, "--continue-on-collection-errors", tmp_path],
            env={**os.environ, "ONEOFF_ALL": needed},
            capture_output=True,
            text=True,
            cwd=tmp_path,
        ).stdout
    assert "4 skipped" in said[""]
    assert "1 failed, 1 skipped, 2 errors" in said["needed"]
