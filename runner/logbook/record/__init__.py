"""Records of runs: chains of lines, kept, read back, recovered, verified.

Public: `chain`, `clip_file`, `database`, `header`, `ledger`, `lock`, `opening`, `record`, `record_shelf`,
`run_store`, `still`, `summary_table`, `writeahead`.
"""
