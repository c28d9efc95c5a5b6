"""Screw threads, preloaded joints, bolt groups and pinch bolts."""
