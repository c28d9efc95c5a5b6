"""A round eye on a pin: plain, bushed or with a spherical bearing."""
