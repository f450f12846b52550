"""Lint: what is questionable or wrong in a check that can be read."""
