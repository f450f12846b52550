"""What lives and what dies in a situation, by which way, and for which seat.

Public: `life_network`, `lively`, `neighbour`, `path`, `seat`.
"""
