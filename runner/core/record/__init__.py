"""The record of a run, and what its fold says.

Public: `answer_history`, `battery_use`, `codec`, `danger_stop`, `entry`, `fold`, `given_answer`, `move`,
`once`, `progress`, `run_summary`, `spin_up_clock`.
"""
