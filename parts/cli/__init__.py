"""The `oneoff` command."""
