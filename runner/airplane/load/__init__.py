"""Reads an airplane file.

Public: `airplane_load`, `field`.
"""
