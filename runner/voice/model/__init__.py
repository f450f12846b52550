"""Model files: those that ship, those that a user fetched, and how each is held against its hash.

Public: `download`, `fetch`, `fetchable`, `model_shelf`, `model_store`.
"""
