"""The airplane as a direct-current network: volts, amperes, and what they do as time goes on.

Public: `alternating`, `band`, `conductor`, `current_network`, `flow`, `likely`, `limit`, `section`, `trait`,
`trip`.
"""
