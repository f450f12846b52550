"""Ears and mouth: ports, pure parts that own no device, and one adapter per library.

Public: `background`, `port`, `sound`.
"""
