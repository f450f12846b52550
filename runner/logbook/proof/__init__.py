"""Whether records are whole: audits, links, signatures, and what can be read of damaged ones.

Public: `audit`, `link`, `logbook_witness`, `raw_line`, `recover`, `signature`, `swift`.
"""
