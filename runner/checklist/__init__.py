"""Checks: what is asked, in which order, and what counts as an answer."""
