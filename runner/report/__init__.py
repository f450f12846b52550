"""Reports: what a person reads afterwards, in text, pictures and plain data.

Public: `caution`, `origin`, `report_page`.
"""
