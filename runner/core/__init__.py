"""The run as a pure state machine: events in, entries and effects out; time is a field.

Public: `answer_origin`, `effect`, `event`, `plan`, `state`.
"""
