"""A live run: sound card, keys and time around one machine.

Public: `attendant`, `equipment`, `inbox`, `interpreter`, `live_room`, `note_clip`, `prompt_mouth`, `scribe`.
"""
