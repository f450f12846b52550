"""The debrief of a drill on a page and on paper.

Public: `debrief_page`.
"""
