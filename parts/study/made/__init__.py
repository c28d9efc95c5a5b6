"""Parts as they were made: what was measured on them, their records, fits as they are, mates elsewhere in the build."""
