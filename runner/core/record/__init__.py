"""The record of a run, and what its fold says.

Public: `battery_use`, `codec`, `danger_stop`, `entry`, `fold`, `move`, `once`, `progress`, `run_summary`,
`spin_up_clock`.
"""
