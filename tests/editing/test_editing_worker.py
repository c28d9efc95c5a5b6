"""The process that works out changes: what is overtaken ends, and the last good part is still built."""

import json
import subprocess
import sys

import pytest

from parts.editing.work import environment
from parts.editing.worker import _cores
from parts.families import families
from parts.report.starter import starter


@pytest.mark.skipif(
    _cores() < 2, reason="on one core a part is checked and built one after the other"
)
def test_the_last_good_part_is_built_though_a_wrong_text_comes_at_once(tmp_path):
    file = tmp_path / "part.yaml"
    good = starter(families()["spacer"], name="HC-160")
    file.write_text(good)
    wrong = good.replace("length:", "length_:")
    assert wrong != good
    with subprocess.Popen(
        [sys.executable, "-m", "parts.editing.worker", str(file)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        text=True, env=environment(),
    ) as worker:  # fmt: skip
        told = []

        def send(version, text):
            worker.stdin.write(json.dumps({"version": version, "texts": {str(file): text}}) + "\n")
            worker.stdin.flush()

        def until(stage, version):
            for line in worker.stdout:
                told.append(json.loads(line))
                if (told[-1]["stage"], told[-1]["version"]) == (stage, version):
                    return

        send(1, good)
        until("read", 1)
        send(2, wrong)
        until("done", 2)
        worker.stdin.close()
    seen = [(one["stage"], one["version"]) for one in told]
    assert ("solid", 1) in seen and ("problems", 2) in seen
    assert ("read", 2) not in seen
