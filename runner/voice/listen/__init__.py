"""Listening: blocks of sound in, utterances out.

Public: `echo`, `endpoint`, `level`, `listener`, `noise`, `occasion`, `result`.
"""
