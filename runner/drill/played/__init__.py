"""The airplane, played second by second from its electrical model.

Public: `drill_panel`, `hidden`, `played_airplane`, `setting`, `spoken_look`.
"""
