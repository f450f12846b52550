"""A run with a scripted pilot on a simulated clock.

Public: `pilot_script`, `scripted_run`, `studio`.
"""
