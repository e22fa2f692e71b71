"""What comes in and goes out as files: rows in, rows or findings out; no store."""
