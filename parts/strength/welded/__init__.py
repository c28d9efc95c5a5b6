"""Welds: lines, throats, detail classes."""
