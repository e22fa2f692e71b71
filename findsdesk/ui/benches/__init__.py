"""The benches: one package each, and none imports another."""
