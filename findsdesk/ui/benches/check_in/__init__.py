"""The bench "Check-in": what stands on the pallet, compared with the field's lists."""
