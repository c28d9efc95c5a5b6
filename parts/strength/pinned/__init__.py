"""Pinned joints."""
