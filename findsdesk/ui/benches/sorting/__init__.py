"""The sorting table."""
