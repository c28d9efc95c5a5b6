"""Makes that are killed, that run beside each other, and that run elsewhere: always one whole version, the same bytes.

    python tests/runs/whole_makes.py --kills 200 --makers 8 --places 6 --seed 1

Two versions of a part, each made once in peace, are what every other folder is held against.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from parts.families import families
from parts.report.starter import starter

ROOT = Path(__file__).parents[2]
PLACES: tuple[Mapping[str, str], ...] = (
    {"PYTHONHASHSEED": "1"},
    {"PYTHONHASHSEED": "4242", "TZ": "Asia/Kathmandu"},
    {"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"},
    {"LC_ALL": "C", "TZ": "America/St_Johns"},
    {"umask": "077"},
    {"umask": "000", "folder": "a folder, with ünlikely [signs]"},
)
"""Hash seeds, time zones, locales, umasks and folders that bytes may not hang on."""

NOWHERE: Mapping[str, str] = MappingProxyType({})
Files = Mapping[str, bytes]


def versions(folder: Path) -> tuple[Path, Path]:
    """The files of two versions of a part, which differ in every file that is made of them."""
    text = starter(families()["spacer"])
    one, other = folder / "one.yaml", folder / "other.yaml"
    one.write_text(text)
    other.write_text(text.replace("\nname:", "\nrevision: B\nname:", 1))
    return one, other


def make(file: Path, out: Path, place: Mapping[str, str] = NOWHERE) -> subprocess.Popen[bytes]:
    """Starts a make; it is not waited for."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    env |= {key: value for key, value in place.items() if key.isupper() or key == "LC_ALL"}
    umask = int(place.get("umask", "022"), 8)
    words = [sys.executable, "-m", "parts", "make", str(file), "--out", str(out)]
    return subprocess.Popen(
        words, env=env, cwd=ROOT, umask=umask, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )


def files_of(out: Path) -> Files:
    """Every file of the part below a folder, by name."""
    return {str(p.relative_to(out)): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}


def made(file: Path, out: Path, place: Mapping[str, str] = NOWHERE) -> Files:
    """What a make leaves that is waited for."""
    run = make(file, out, place)
    _, told = run.communicate()
    assert run.returncode == 0, told.decode()
    return files_of(out)


def of_the_part(found: Files) -> Files:
    """The files in the part's own folder: those beside it tell of all parts."""
    return {name: content for name, content in found.items() if "/" in name}


def killed(folder: Path, kills: int, draw: random.Random) -> int:
    """Faults after kills at random moments: a folder that is none of the two versions."""
    sources = versions(folder)
    start = time.perf_counter()
    whole = [of_the_part(made(file, folder / f"ref{i}")) for i, file in enumerate(sources)]
    length, out, faults = (time.perf_counter() - start) / 2.0, folder / "killed", 0
    made(sources[0], out)
    for k in range(kills):
        run = make(sources[(k + 1) % 2], out)
        # Most fall where files are written and folders swapped, which is late.
        time.sleep(length * draw.choice([draw.uniform(0.0, 1.1), draw.uniform(0.7, 1.05)]))
        run.send_signal(signal.SIGKILL)
        run.communicate()
        if of_the_part(files_of(out)) not in whole:
            faults += 1
            print(
                f"--- kill {k}: the folder is no whole version: {sorted(files_of(out))}", flush=True
            )
    if of_the_part(made(sources[0], out)) != whole[0]:
        faults += 1
        print("--- a make after the kills leaves another folder", flush=True)
    return faults


def together(folder: Path, makers: int) -> int:
    """Faults of makes that run at once into one folder: one that fails, or a folder that is no whole version."""
    sources = versions(folder)
    whole = [of_the_part(made(file, folder / f"ref{i}")) for i, file in enumerate(sources)]
    runs = [make(sources[i % 2], folder / "shared") for i in range(makers)]
    told = [run.communicate()[1].decode() for run in runs]
    failed = [text for run, text in zip(runs, told, strict=True) if run.returncode]
    for text in failed:
        print(f"--- a maker failed: {text[:500]}", flush=True)
    if of_the_part(files_of(folder / "shared")) in whole:
        return len(failed)
    print("--- the makers left no whole version", flush=True)
    return len(failed) + 1


def elsewhere(folder: Path, places: int) -> int:
    """Faults of makes in other places: files whose bytes differ."""
    file, _ = versions(folder)
    wanted, faults = made(file, folder / "ref"), 0
    for i, place in enumerate(PLACES[:places]):
        found = made(file, folder / place.get("folder", "") / f"place{i}", place)
        if differ := [name for name in {*wanted, *found} if wanted.get(name) != found.get(name)]:
            faults += 1
            print(f"--- {dict(place)}: {sorted(differ)}", flush=True)
    return faults


def run(kills: int, makers: int, places: int, seed: int) -> int:
    """Runs all three; gives the number of faults."""
    found = 0
    for what, count, find in (
        ("kills", kills, lambda at: killed(at, kills, random.Random(seed))),
        ("makers", makers, lambda at: together(at, makers)),
        ("places", places, lambda at: elsewhere(at, places)),
    ):
        if count:
            with tempfile.TemporaryDirectory() as folder:
                faults = find(Path(folder))
            print(f"{count} {what}: {faults} faults", flush=True)
            found += faults
    return found


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--kills", type=int, default=200)
    asked.add_argument("--makers", type=int, default=8)
    asked.add_argument("--places", type=int, default=len(PLACES))
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    sys.exit(1 if run(given.kills, given.makers, given.places, given.seed) else 0)
