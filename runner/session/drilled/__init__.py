"""A drill around the same machine as a run: its desk beside it, its words in force beside the check's.

Public: `drill_review`, `drill_session`, `headphones`.
"""
