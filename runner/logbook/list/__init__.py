"""Lists over many runs: which there are, and what their values do."""
