"""What the pilot sees: one view of the run as data, drawn as a Textual app or as plain text.

Public: `build`, `double_tap`, `drill_key`, `drill_view`, `keys`, `view`, `view_wording`.
"""
