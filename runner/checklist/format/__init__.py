"""The check file: how each of its parts is written, read and held as data.

Public: `body`, `check`, `check_load`, `phrase`.
"""
