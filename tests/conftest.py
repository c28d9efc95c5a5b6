"""What every test is run with."""

import os

# Before numpy is first imported: the matrices here are small, and threads only get in each other's way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from hypothesis import settings

# No case is failed for being slow: the first one reads tables and units, and a machine may be busy.
settings.register_profile("house", deadline=None)
settings.load_profile("house")
