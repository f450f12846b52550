"""Buses, seats and minutes of one airplane in text and pictures.

Public: `audit_text`, `bus_report`, `bus_text`, `diagram`, `endurance_chart`, `endurance_report`,
`endurance_text`.
"""
