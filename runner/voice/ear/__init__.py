"""Ears: what turns the sound of an utterance into a phrase in force, or into nothing."""
