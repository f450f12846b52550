"""Charge, capacity and minutes on the battery.

Public: `accumulator`, `capacity`, `cell`, `chance`, `charge`, `fact`, `generator`, `reckoning`, `rundown`,
`shedding`, `stamina`, `standing_now`.
"""
