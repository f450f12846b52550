"""A school's shared records."""
