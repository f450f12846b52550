"""The report of one run, on every kind of paper."""
