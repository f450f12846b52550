"""Drills on disk, apart from everything that happened to a real airplane.

Public: `drill_book`, `drill_header`, `practice_book`.
"""
