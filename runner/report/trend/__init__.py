"""Trends in text, pictures and plain data.

Public: `strip_chart`, `trend_chart`, `trend_json`, `trend_text`.
"""
