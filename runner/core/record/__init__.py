"""The record of a run, and what its fold says."""
