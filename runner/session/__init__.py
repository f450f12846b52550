"""Sessions: the parts put together around one machine, live or with a scripted pilot.

Public: `beginning`, `data_file`, `engine`, `fitness`, `parts`, `recollection`, `session`.
"""
