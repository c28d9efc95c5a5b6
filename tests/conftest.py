"""What every test is run with."""

import gc
import os
import sys
from pathlib import Path

# Before numpy is first imported: the matrices here are small, and threads only get in each other's way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Where no compiled files are kept, every command that a test starts compiles three hundred modules anew: a second each.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

import numpy as np
import pytest
from hypothesis import HealthCheck, settings

sys.dont_write_bytecode = False
# What imports and collecting make is no garbage; see `pytest_runtest_teardown`.
gc.disable()

# No case is failed for being slow: the first one reads tables and units, and a machine may be busy. As many cases as
# leave the default run short; a test that needs more says so.
settings.register_profile(
    "house",
    deadline=None,
    max_examples=25,
    # Shapes that cannot be built are passed over, and by chance there may be many in a row.
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)
settings.load_profile("house")

ALL_NEEDED = os.environ.get("ONEOFF_ALL") == "needed"
"""Set where everything that a test may need is installed: what is skipped there would hide a fault."""
FITTING = ("no such class, or a small size", "the system cannot forget a peak")
"""What is said in a skip that no installation would mend."""


LONG = (
    "tests/report/page/test_page_proof.py",
    "tests/report/page/test_page_browser.py",
    "tests/report/page/test_page_tools.py",
    "tests/editing/test_editing.py",
    "tests/editing/test_editing_made.py",
    "tests/families/test_every_family.py",
    "tests/vehicle/test_build.py",
    "tests/making/process/test_plan.py",
    "tests/strength/section/test_torsion.py",
    "tests/study/test_sweep.py",
    "tests/cli/test_command.py",
    "tests/test_arrows.py",
    "tests/proof/test_limits.py",
    "tests/vehicle/test_ends.py",
    "tests/making/print/test_print.py",
    "tests/study/test_sure.py",
    "tests/families/test_clevis.py",
    "tests/study/test_size.py",
    "tests/families/test_gusset.py",
    "tests/families/test_weak_bracket.py",
    "tests/families/test_torsion_arm.py",
    "tests/families/test_foot_bracket.py",
    "tests/report/page/test_page_build.py",
    "tests/vehicle/test_falls.py",
    "tests/families/test_adjustable_link.py",
    "tests/vehicle/test_checks.py",
    "tests/study/test_options.py",
    "tests/families/test_ways.py",
    "tests/test_demo.py",
    "tests/making/mill/test_mill.py",
    "tests/making/bench/test_drawings.py",
    "tests/proof/test_hub_flats.py",
    "tests/families/test_mount_plate.py",
    "tests/editing/test_editing_build.py",
    "tests/proof/test_calculix.py",
    "tests/making/bench/test_weld_sheet.py",
    "tests/standards/test_lookup.py",
    "tests/making/bench/test_stated.py",
    "tests/folders/test_part_changes.py",
    "tests/published/test_solid_benchmarks.py",
)
"""The files that take longest come first: a long one that came last would leave a worker idle."""
COLLECTED = pytest.StashKey[set[Path]]()


def pytest_collection_modifyitems(config, items):
    place = {config.rootpath / one: k for k, one in enumerate(LONG)}
    items.sort(key=lambda item: place.get(item.path, len(LONG)))


def pytest_collection_finish():
    gc.freeze()


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown(item, nextitem):
    """Garbage is looked for once a file, among what that file left: to look for it as it comes takes a fifth longer."""
    if nextitem is None or nextitem.path != item.path:
        gc.collect()
        gc.freeze()


def pytest_itemcollected(item):
    item.session.stash.setdefault(COLLECTED, set()).add(item.path)


def _as_failure(report):
    """A report of what was skipped for something missing, as a failure where nothing may be missing."""
    if ALL_NEEDED and report.skipped and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
        if not any(fitting in reason for fitting in FITTING):
            report.outcome = "failed"
            report.longrepr = f"skipped where nothing may be: {reason}"
    return report


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Each file is run by one worker, the longest first: what a module makes once is not made twice."""
    from xdist.scheduler import LoadFileScheduling

    config.option.loadscopereorder = False  # by the number of their tests, it would be
    return LoadFileScheduling(config, log) if config.getoption("dist") == "load" else None


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    return _as_failure((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector):
    return _as_failure((yield))


@pytest.fixture
def collected(request):
    """The files of which this run collected a test, left out later or not."""
    return request.session.stash[COLLECTED]


@pytest.fixture
def bent_by_differences():
    """A beam-column of three pieces solved on a fine grid, to hold closed forms against."""
    from scipy.sparse import diags
    from scipy.sparse.linalg import spsolve

    def bent(stiff, long, F, P, off, x):
        """Moment at x of a pinned column under P off its axis and F at the middle: E I y'' = -M on a fine grid."""
        L, n = sum(long), 6001
        at = np.linspace(0.0, L, n)
        step = at[1]
        EI = np.select([at < long[0], at < long[0] + long[1]], stiff[:2], stiff[2])
        first = F / 2.0 * np.minimum(at, L - at) + P * off
        y = np.zeros(n)
        side = np.full(n - 3, step**-2)
        middle = P / EI[1:-1] - 2.0 / step**2
        y[1:-1] = spsolve(diags([side, middle, side], [-1, 0, 1]).tocsc(), -first[1:-1] / EI[1:-1])
        return float(np.interp(x, at, first + P * y))

    return bent
