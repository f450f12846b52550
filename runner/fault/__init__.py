"""Single failures: what each would show, which a check would never notice, where to look next.

Public: `diagnosis`, `fault`, `fault_audit`, `fault_walk`, `pair`.
"""
