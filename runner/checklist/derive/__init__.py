"""Derives a check from an airplane.

Public: `derived_check`.
"""
