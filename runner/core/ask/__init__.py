"""What is asked next, what is said, and what may be answered."""
