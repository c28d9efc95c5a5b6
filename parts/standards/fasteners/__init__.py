"""Bolts, nuts, washers, pins, circlips and wrenches."""
