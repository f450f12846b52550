"""An airplane as data."""
