"""Whether records are whole: audits, links, signatures, and what can be read of damaged ones."""
