"""Packets: for each shop one PDF and one zip with what it needs of the parts, and nothing else."""
