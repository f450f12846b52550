"""The report of an airplane or of a fleet, on every kind of paper.

Public: `airplane_csv`, `airplane_json`, `airplane_report`, `airplane_sheet`, `airplane_trend`.
"""
