"""What `make` leaves on disk: the folder of a part, of a proof, of a build, and what changed since the last run."""
