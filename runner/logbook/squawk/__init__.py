"""Squawks and maintenance: what people did about what runs found."""
