"""The metal beside a weld."""
