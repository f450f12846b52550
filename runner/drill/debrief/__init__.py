"""The debrief of a drill: what was caught, missed and invented, and what it took.

Public: `debrief_words`, `drill_debrief`.
"""
