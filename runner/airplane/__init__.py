"""Airplanes: sources, buses, loads, instruments, and what lives when the selector moves."""
