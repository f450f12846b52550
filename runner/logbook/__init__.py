"""The logbook: the store of all runs, append-only, hash-chained, readable after any stop."""
