"""The full screen, a Textual app that draws views.

Public: `bar`, `screen_app`, `screen_stop`.
"""
