"""Proofs: an exhaustive walk of a check over the real machine, with time abstracted.

Public: `alike`, `proof`.
"""
