"""A plate that collects points: its outline and windows, what stands on it, and how it bears loads to its mounts."""
