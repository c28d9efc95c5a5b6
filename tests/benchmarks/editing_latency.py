"""How long a change in hand takes on the parts of the demo: processor time of each stage until it is told.

`python tests/benchmarks/editing_latency.py --changes 20` changes one length of each part again and again, as a
drag does, and prints for each stage median and 95 % [s], and the solid as a multiple of a plain rebuild by CadQuery.
"""

import argparse
import os
import time
from pathlib import Path

# As `parts.editing.work.environment` starts a worker: further threads of the linear algebra only wait.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from parts.editing.answer import PartReader, solid
from parts.editing.fields import fields_of
from parts.inputs.document import steps_of
from parts.inputs.edited import Edit, edited

PARAMS = Path(__file__).parents[2] / "params"
STAGES = ("read", "beside", "checked")
LENGTHS = ("plate.thickness", "ears.width", "body.diameter", "thickness", "arm.width", "edge_break")


def changes(reader, text, count):
    """Texts with one length a little shorter each time."""
    part, document = reader.part({}), reader.document({})
    fields = {one["path"]: one for one in fields_of(part, document)}
    path = next(one for one in LENGTHS if one in fields and fields[one]["value"])
    for k in range(count):
        yield edited(
            text, [Edit(steps_of(path), f"{fields[path]['value'] * (1 - 0.001 * (k + 1)):.4f} mm")]
        )


def measure(file, count):
    reader = PartReader(file)
    for _ in reader.steps():
        pass
    took = {stage: [] for stage in (*STAGES, "solid", "rebuild")}
    for text in changes(reader, file.read_text(), count):
        began, seen = time.process_time(), set()
        for told in reader.answers({str(file): text}):
            # What a stage tells first counts: the checks beside the sections come again, case by case.
            if told["stage"] in took and told["stage"] not in seen:
                seen.add(told["stage"])
                took[told["stage"]].append(time.process_time() - began)
            if told["stage"] == "checked":
                break
        part = reader.part({str(file): text})
        began = time.process_time()
        part.build()
        took["rebuild"].append(time.process_time() - began)
        part = reader.part({str(file): text})
        began = time.process_time()
        solid(part)
        took["solid"].append(time.process_time() - began)
    return took


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--changes", type=int, default=20)
    options.add_argument("files", nargs="*", type=Path)
    asked = options.parse_args()
    print(f"{'part':10}" + "".join(f"{one:>16}" for one in (*STAGES, "solid", "solid/rebuild")))
    for file in asked.files or sorted(PARAMS.glob("hc-*.yaml")):
        took = measure(file, asked.changes)
        said = [
            f"{np.median(v):.3f} {np.percentile(v, 95):.3f}" if v else "-"
            for v in (took[one] for one in (*STAGES, "solid"))
        ]
        ratio = np.median(np.divide(took["solid"], took["rebuild"])) if took["rebuild"] else np.nan
        print(
            f"{file.stem[:6]:10}" + "".join(f"{one:>16}" for one in said) + f"{ratio:16.2f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
