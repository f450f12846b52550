"""Buses, seats and minutes of one airplane in text and pictures.

Public: `bus_report`, `bus_text`, `diagram`, `endurance_chart`, `endurance_report`, `endurance_text`.
"""
