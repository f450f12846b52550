"""Invented histories, marked as such, for demos, tests and benchmarks."""
