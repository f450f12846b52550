"""Drills: an airplane that is played from its model and breaks, and what a student makes of it.

Pure: the same airplane, faults, hands and answers give the same drill on any machine, on any day.
"""
