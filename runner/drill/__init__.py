"""Drills: an airplane that is played from its model and breaks, and what a student makes of it.

Public: `drill_act`, `drill_desk`, `drill_event`.
"""
