"""Pieces of work done in this process, on the cores of this machine, or by a cluster: results as they come."""
