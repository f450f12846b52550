"""Ears: what turns the sound of an utterance into a phrase in force, or into nothing.

Public: `builtin`, `calibration`, `dictionary`, `vosk_ear`.
"""
