"""Columns and links in compression."""
