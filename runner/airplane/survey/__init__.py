"""What is questionable in an airplane file that reads without a mistake, each with its place.

Public: `findings`, `remark`.
"""
