"""Makes that are killed, that run beside each other, and that run elsewhere: always one whole version, the same bytes.

    python tests/runs/whole_makes.py --kills 200 --makers 8 --places 7 --seed 1

Two versions of each part, each made once in peace, are what every other folder is held against. A make that is killed
runs in a child of a process that has loaded what it needs, so that a kill falls into the work and not into the start of
Python: half of the kills come at a random moment, half before one of the operations on the disk, the swap among them.
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
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from types import MappingProxyType
from typing import Any

from parts.cli.main import main
from parts.families import families
from parts.folders.standing import NOTE
from parts.report.build_starter import build_starter
from parts.report.starter import starter

ROOT = Path(__file__).parents[2]
TURKISH = "tr_TR.UTF-8"
PLACES: tuple[Mapping[str, str], ...] = (
    {"PYTHONHASHSEED": "1"},
    {"PYTHONHASHSEED": "4242", "TZ": "Asia/Kathmandu"},
    {"LC_ALL": TURKISH, "LANG": TURKISH},
    {"LC_ALL": "C", "TZ": "America/St_Johns"},
    {"umask": "077"},
    {"umask": "000", "folder": "a folder, with ünlikely [signs]"},
    {"LC_ALL": TURKISH, "TZ": "Pacific/Apia", "umask": "027", "PYTHONHASHSEED": "7", "folder": "İI ıi"},
)  # fmt: skip
"""Hash seeds, time zones, locales, umasks and folders that bytes may not hang on."""
IN_ITS_LOCALE = (
    "import locale; locale.setlocale(locale.LC_ALL, ''); from parts.cli.main import main; main()"
)
"""The command in a process that took its numbers and sorting from its surroundings, as a script of a user's may."""

NOWHERE: Mapping[str, str] = MappingProxyType({})
Files = Mapping[str, bytes]

SMALL, LARGE, ONE_IN = ("spacer", "frame tab", "threaded bung"), "foot-control bracket", 20
"""Families whose parts are killed in turn, and one whose make takes long: it is killed once in so many."""


def versions(folder: Path, family: str) -> tuple[Path, Path]:
    """The files of two versions of a part, which differ in every file that is made of them."""
    text = starter(families()[family])
    one, other = (folder / f"{family} {kind}.yaml" for kind in ("one", "other"))
    one.write_text(text)
    other.write_text(text.replace("\nname:", "\nrevision: B\nname:", 1))
    return one, other


def make(
    files: Sequence[Path], out: Path, place: Mapping[str, str] = NOWHERE, *words: str
) -> subprocess.Popen[bytes]:
    """Starts a make; it is not waited for."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    env |= {key: value for key, value in place.items() if key.isupper() or key == "LC_ALL"}
    umask = int(place.get("umask", "022"), 8)
    words = (
        sys.executable,
        "-c",
        IN_ITS_LOCALE,
        "make",
        *map(str, files),
        *words,
        "--out",
        str(out),
    )
    return subprocess.Popen(
        words, env=env, cwd=ROOT, umask=umask, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )  # fmt: skip


def files_of(out: Path) -> Files:
    """Every file below a folder, by name; what stands beside its place too. Not the note of what a next run in this
    very place would say."""
    files = [p for p in sorted(out.rglob("*")) if p.is_file() and p.name != NOTE]
    return {str(p.relative_to(out)): p.read_bytes() for p in files}


def made(
    files: Sequence[Path], out: Path, place: Mapping[str, str] = NOWHERE, *words: str
) -> Files:
    """What a make leaves that is waited for."""
    run = make(files, out, place, *words)
    _, told = run.communicate()
    assert run.returncode == 0, told.decode()
    return files_of(out)


def of_the_part(found: Files) -> Files:
    """The files in the folders of parts: those beside them tell of all parts, and what begins with a dot of none."""
    return {name: content for name, content in found.items() if "/" in name and name[0] != "."}


def warm() -> None:
    """Load what a make needs, and draw nothing: a child draws by itself."""
    from cadquery import Workplane

    for name in (
        "vtkmodules.all",
        "parts.folders.part_files",
        "parts.report.page.index",
        "parts.report.page.part",
    ):
        import_module(name)
    Workplane().box(1.0, 1.0, 1.0).val().isValid()


def begun(file: Path, out: Path, watch: Callable[[str, Any], None] | None = None) -> int:
    """Starts a make in a child; the number of its process.

    Args:
        file: the part's file.
        out: the folder of outputs.
        watch: told of each of Python's audit events in the child.
    """
    if child := os.fork():
        return child
    status = 70
    with suppress(BaseException):
        for stream in (1, 2):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream)
        sys.argv = ["oneoff", "make", str(file), "--out", str(out)]
        if watch is not None:
            sys.addaudithook(watch)
        try:
            main()
        except SystemExit as ended:
            status = int(ended.code or 0)
    os._exit(status)


def waited(child: int) -> int:
    """Exit status of a child; minus the signal that ended it."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


ON_THE_DISK = ("os.", "shutil.", "tempfile.", "ctypes.dlsym")


def on_the_disk(event: str, given: Any, out: str) -> bool:
    """Whether an audit event changes the disk below a folder; `ctypes.dlsym` finds what swaps two folders."""
    if event == "ctypes.dlsym":
        return given[1:] == ("renameat2",)
    if event in ("os.remove", "os.rmdir") and given[-1] != -1:
        return True  # within a folder that goes as a whole
    if event == "open" and not (isinstance(given[2], int) and given[2] & (os.O_WRONLY | os.O_RDWR)):
        return False
    return event.startswith(("open", *ON_THE_DISK)) and any(
        isinstance(one, str | bytes | os.PathLike) and os.fsdecode(one).startswith(out)
        for one in given
    )


def operations(file: Path, out: Path) -> int:
    """How many operations on the disk a make takes where a folder stands already."""
    with tempfile.TemporaryFile() as told:

        def count(event: str, given: Any) -> None:
            if on_the_disk(event, given, str(out)):
                os.write(told.fileno(), b".")

        assert waited(begun(file, out, count)) == 0
        return os.fstat(told.fileno()).st_size


def killed_before(file: Path, out: Path, number: int) -> None:
    """A make that is killed before one of its operations on the disk."""
    seen = 0

    def end(event: str, given: Any) -> None:
        nonlocal seen
        if on_the_disk(event, given, str(out)):
            seen += 1
            if seen == number:
                os.kill(os.getpid(), signal.SIGKILL)

    waited(begun(file, out, end))


def killed_after(file: Path, out: Path, seconds: float) -> None:
    """A make that is killed at a moment."""
    child = begun(file, out)
    time.sleep(seconds)
    with suppress(ProcessLookupError):
        os.kill(child, signal.SIGKILL)
    waited(child)


class Killing:
    """Two versions of a part, its folder, and how its makes go when nobody kills them."""

    def __init__(self, folder: Path, family: str) -> None:
        self.family, self.out = family, folder / family / "killed"
        (folder / family).mkdir()
        self.sources = versions(folder / family, family)
        self.whole = []
        for i, file in enumerate(self.sources):
            start, at = time.perf_counter(), folder / family / f"ref{i}"
            assert waited(begun(file, at)) == 0, f"{family} is not made"
            self.length = time.perf_counter() - start
            self.whole.append(files_of(at))
        assert waited(begun(self.sources[0], self.out)) == 0
        self.operations = operations(self.sources[1], self.out)

    def kill(self, draw: random.Random) -> str:
        """Kill one make; what is wrong then, or nothing."""
        file = self.sources[draw.randrange(2)]
        if draw.random() < 0.5:
            number = draw.randint(1, self.operations)
            killed_before(file, self.out, number)
            when = f"before operation {number} of {self.operations}"
        else:
            share = draw.choice([draw.uniform(0.0, 1.1), draw.uniform(0.7, 1.05)])
            killed_after(file, self.out, share * self.length)
            when = f"after {share:.2f} of its time"
        found = of_the_part(files_of(self.out))
        if found in [of_the_part(one) for one in self.whole]:
            return ""
        return f"{self.family}, {when}: no whole version: {sorted(found)}"

    def after(self) -> str:
        """What is wrong with a make that nobody kills, after all those."""
        assert waited(begun(self.sources[0], self.out)) == 0
        left, wanted = files_of(self.out), self.whole[0]
        if left == wanted:
            return ""
        return f"{self.family}: a make after the kills leaves {sorted(set(left) ^ set(wanted))}"


def killed(folder: Path, kills: int, draw: random.Random) -> int:
    """Faults after kills: a folder that is none of the two versions, or leftovers that a later make does not sweep."""
    warm()
    small = [Killing(folder, family) for family in SMALL]
    large = [Killing(folder, LARGE)] if kills >= ONE_IN else []
    faults = []
    for k in range(1, kills + 1):
        one = large[0] if k % ONE_IN == 0 else small[k % len(small)]
        faults.append(one.kill(draw))
    return _told([*faults, *(one.after() for one in (*small, *large))])


def _told(faults: Sequence[str]) -> int:
    """Print the faults; how many there are."""
    found = [one for one in faults if one]
    for one in found:
        print(f"--- {one}", flush=True)
    return len(found)


def together(folder: Path, makers: int) -> int:
    """Faults of makes that run at once into one folder: one that fails, or a folder that is no whole version."""
    sources = [versions(folder, family) for family in SMALL[:2]]
    whole = [[of_the_part(made([file], folder / f"ref {file.stem}")) for file in of] for of in sources]  # fmt: skip
    shared = folder / "shared"
    runs = [make([sources[i // 2 % 2][i % 2]], shared) for i in range(makers)]
    told = [run.communicate()[1].decode() for run in runs]
    faults = [
        f"a maker failed: {text[:500]}"
        for run, text in zip(runs, told, strict=True)
        if run.returncode
    ]
    left = of_the_part(files_of(shared))
    for one, other in whole[: -(-makers // 2)]:
        name = next(iter(one)).partition("/")[0]
        if {file: b for file, b in left.items() if file.startswith(f"{name}/")} not in (one, other):
            faults.append(f"the makers left no whole version of {name}")
    if beside := [one.name for one in shared.iterdir() if one.name.startswith(".")]:
        faults.append(f"the makers left {beside}")
    return _told(faults)


def every_kind(folder: Path) -> list[Path]:
    """Files whose make, with packets, writes every kind of file: a plate, a turned part, a build."""
    plate, turned = versions(folder, "frame tab")[0], versions(folder, "spacer")[0]
    build = folder / "build.yaml"
    build.write_text(build_starter("plain links"))
    (folder / "first.yaml").write_text(starter(families()["clevis"]))
    return [plate, turned, build]


def elsewhere(folder: Path, places: int) -> int:
    """Faults of makes in other places: files whose bytes differ."""
    files = every_kind(folder)
    wanted, faults = made(files, folder / "ref", NOWHERE, "--packet"), []
    print(f"{len(wanted)} files: {sorted({Path(name).suffix for name in wanted})}", flush=True)
    with tempfile.TemporaryDirectory() as locales:
        for i, place in enumerate(PLACES[:places]):
            around = {**place, **_with_turkish(place, Path(locales))}
            found = made(files, folder / place.get("folder", "") / f"place{i}", around, "--packet")
            differ = [name for name in {*wanted, *found} if wanted.get(name) != found.get(name)]
            faults.append(f"{dict(place)}: {sorted(differ)}" if differ else "")
    return _told(faults)


def _with_turkish(place: Mapping[str, str], folder: Path) -> Mapping[str, str]:
    """Where a place's locale is found: made from its source where the system has the source alone.

    Raises:
        CalledProcessError: there is no source either (Debian: the package `locales`).
    """
    if place.get("LC_ALL") != TURKISH:
        return NOWHERE
    if not (folder / TURKISH).exists():
        words = ["localedef", "-i", "tr_TR", "-f", "UTF-8", str(folder / TURKISH)]
        subprocess.run(words, check=True)
    return {"LOCPATH": str(folder)}


def runs(given: Any) -> Iterator[tuple[str, int, Callable[[Path], int]]]:
    """What is asked for: its name, how often, and what finds its faults in a folder."""
    yield "makers", given.makers, lambda at: together(at, given.makers)
    yield "places", given.places, lambda at: elsewhere(at, given.places)
    yield "kills", given.kills, lambda at: killed(at, given.kills, random.Random(given.seed))


def run(given: Any) -> int:
    """Runs all three; gives the number of faults."""
    found = 0
    for what, count, find in runs(given):
        if count:
            start = time.perf_counter()
            with tempfile.TemporaryDirectory() as folder:
                faults = find(Path(folder))
            print(
                f"{count} {what}: {faults} faults, {time.perf_counter() - start:.0f} s", flush=True
            )
            found += faults
    return found


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--kills", type=int, default=200)
    asked.add_argument("--makers", type=int, default=8)
    asked.add_argument("--places", type=int, default=len(PLACES))
    asked.add_argument("--seed", type=int, default=1)
    sys.exit(1 if run(asked.parse_args()) else 0)
