"""A live run: sound card, keys and time around one machine."""
