"""Squawks and maintenance: what people did about what runs found.

Public: `deferral`, `maintenance_record`, `squawk_record`.
"""
