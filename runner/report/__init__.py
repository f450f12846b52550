"""Reports: what a person reads afterwards, in text, pictures and plain data."""
