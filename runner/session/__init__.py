"""Sessions: the parts put together around one machine, live or with a scripted pilot.

Public: `beginning`, `engine`, `fitness`, `parts`, `session`.
"""
