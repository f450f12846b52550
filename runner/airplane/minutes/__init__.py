"""Charge, capacity and minutes on the battery.

Public: `capacity`, `cell`, `chance`, `charge`, `fact`, `generator`, `reckoning`, `shedding`, `stamina`,
`standing_now`.
"""
