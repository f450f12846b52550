"""Reports: what a person reads afterwards, in text, pictures and plain data.

Public: `origin`, `report_page`.
"""
