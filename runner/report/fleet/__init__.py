"""The report of an airplane or of a fleet, on every kind of paper."""
