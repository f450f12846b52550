"""Charge, capacity and minutes on the battery."""
