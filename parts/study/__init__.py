"""Many variants of one part: sizes and sweeps."""
