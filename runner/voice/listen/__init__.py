"""Listening: blocks of sound in, utterances out."""
