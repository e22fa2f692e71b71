"""Table models that fetch only what is painted."""
