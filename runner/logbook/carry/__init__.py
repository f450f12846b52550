"""Records on their way between computers: out as JSON Lines, and in again.

Public: `chain_intake`, `run_export`, `run_intake`, `set_aside`.
"""
