"""A live run: sound card, keys and time around one machine.

Public: `attendant`, `equipment`, `interpreter`, `live_room`, `note_clip`, `prompt_mouth`, `scribe`.
"""
