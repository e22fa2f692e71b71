"""The wash yard: dip and look, the tubs, the count that says washed, the trays."""
