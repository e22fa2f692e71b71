"""The window: benches, table models, widgets, scanning, theme; the only place that knows Qt."""
