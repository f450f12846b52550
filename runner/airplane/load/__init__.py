"""Reads an airplane file."""
