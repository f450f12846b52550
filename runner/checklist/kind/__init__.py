"""The kinds of item: of each, all that the product knows, in its own file."""
