"""The machine: what each state does with each event and each word.

Public: `grid_reply`, `machine`, `table`.
"""
