"""Derives a check from an airplane."""
