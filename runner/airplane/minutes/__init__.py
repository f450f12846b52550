"""Charge, capacity and minutes on the battery.

Public: `capacity`, `chance`, `charge`, `fact`, `generator`, `reckoning`, `shedding`, `temperature`.
"""
