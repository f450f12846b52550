"""The lesson: what twenty phrases tell of one voice, microphone and room.

Public: `advice`, `fitting`, `learned`, `lesson`, `trial`.
"""
