"""Lint: what is questionable or wrong in a check that can be read.

Public: `check_lint`, `consistency`, `coverage`, `finding`, `scene`, `shape`.
"""
