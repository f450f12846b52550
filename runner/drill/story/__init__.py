"""Stories: what is hidden, who interrupts, how long there is; each proved solvable before it is told.

Public: `drill_level`, `drill_story`, `emergency`, `interruption`.
"""
