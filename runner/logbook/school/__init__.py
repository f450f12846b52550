"""A school's shared records.

Public: `address`, `push`, `school`, `school_share`.
"""
