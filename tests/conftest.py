"""Set before numpy is first imported: the matrices here are small, and threads only get in each other's way."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
