"""Pieces of work done in this process, on the cores of this machine, or by a cluster: results as they come."""

READ_ALONG = "ONEOFF_READ_ALONG"
"""Set in the surroundings of a command where a program shows how far it is: each step is a line of its own."""
