"""Numbers over many records: plain values in, results out; no store, no window."""
