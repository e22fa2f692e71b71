"""Parts of the window that several benches use. Each takes small plain values and knows no desk."""
