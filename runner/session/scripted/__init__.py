"""A run with a scripted pilot on a simulated clock."""
