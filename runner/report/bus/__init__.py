"""Buses, seats and minutes of one airplane in text and pictures."""
