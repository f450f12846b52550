"""Lint: what is questionable or wrong in a check that can be read.

Public: `branch`, `check_lint`, `claim`, `clash`, `consistency`, `coverage`, `finding`, `minutes_truth`,
`scene`, `shape`.
"""
