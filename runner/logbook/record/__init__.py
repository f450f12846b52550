"""Records of runs: chains of lines, kept, read back, recovered, verified."""
