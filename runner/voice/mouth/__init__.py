"""The mouth: text rendered to sound, at a pace that can be written down.

Public: `cache`, `compression`, `pace`, `pyttsx3_voice`.
"""
