"""Rod ends."""
