"""The kinds of item: of each, all that the product knows, in its own file.

Public: `dead`, `item_phrases`, `kinds`, `numbered`, `spin_up`.
"""
