"""Marks & labels: what is printed, looked at and read back before it counts, and what is inked."""
