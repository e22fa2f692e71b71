"""Labels, lists and reports as PDF: plain values in, bytes out; no store."""
