"""The full screen, a Textual app that draws views."""
