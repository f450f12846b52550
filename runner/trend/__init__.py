"""What the values of many runs say: control charts, trends on real time, and a verdict in plain words.

Public: `drift`, `judged_series`, `monotone`, `score`, `series`, `verdict`, `verdict_wording`.
"""
