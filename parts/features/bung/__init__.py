"""A turned bung for the end of a tube: its shape, what a wrench holds it by, its sections, its drawing."""
