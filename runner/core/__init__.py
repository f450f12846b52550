"""The run as a pure state machine: events in, entries and effects out; time is a field.

Public: `effect`, `event`, `plan`, `state`.
"""
