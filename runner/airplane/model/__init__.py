"""An airplane as data.

Public: `airplane`, `instrument`, `rule`, `situation`, `source`, `wiring`.
"""
