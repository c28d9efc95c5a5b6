"""Threaded ends, turned steps, and the threaded shank of a clevis."""
