"""Flat blanks for water and laser: profile, holes, engraving and nest."""
