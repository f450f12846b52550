"""The report of one run, on every kind of paper.

Public: `run_csv`, `run_incident`, `run_item`, `run_json`, `run_report`, `run_sheet`, `run_wording`,
`shared_feed`, `spin_up_chart`, `suspects`.
"""
