"""Records on their way between computers: out as JSON Lines, and in again."""
