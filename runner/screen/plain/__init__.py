"""The view as lines of text, and lines typed in answer.

Public: `console`, `plain_view`.
"""
