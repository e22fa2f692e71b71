"""The bench "Figures": what sorted pottery amounts to and when it is of, each figure open to its rows."""
