"""Lists over many runs: which there are, and what their values do.

Public: `airplane_series`, `entry_wording`, `run_list`.
"""
