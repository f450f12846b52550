"""Trends in text, pictures and plain data."""
