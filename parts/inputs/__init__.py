"""From YAML to checked numbers: units, designations, and messages with file, line and field."""
