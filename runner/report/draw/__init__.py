"""What every paper is made with: pages, sheets, marks, tables, scales."""
