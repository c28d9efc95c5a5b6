"""Pieces of work that the tests hand to other processes, which find them by this module."""

import os
import signal
import time
from pathlib import Path


def halved(number):
    if number % 2:
        raise ValueError(f"{number} is odd")
    return number // 2


def fatal(piece):
    """Ends its own process: once, where it is given the name of a file that is not there yet, or each time."""
    once, number = piece
    if once is not None and not Path(once).exists():
        Path(once).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    if once is None and number == 0:
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def slept(piece):
    """Tells in a file that it was done, after a while."""
    folder, number, seconds = piece
    time.sleep(seconds)
    with open(Path(folder) / str(number), "a") as stream:
        stream.write("x")
    return number * number
