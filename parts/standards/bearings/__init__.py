"""Rolling and spherical bearings."""
