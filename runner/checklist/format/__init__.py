"""The check file: how each of its parts is written, read and held as data.

Public: `check`, `check_load`, `duration`, `mark`, `named_answer`, `phrase`, `scope`.
"""
