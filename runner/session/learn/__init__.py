"""Lessons: a voice learned, and kept for later runs.

Public: `learning`, `profile`, `teacher`.
"""
