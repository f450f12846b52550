"""Reciting: a check's flow from memory, held against every order that its dependencies allow.

Public: `flow_order`, `flow_words`, `recitation`.
"""
