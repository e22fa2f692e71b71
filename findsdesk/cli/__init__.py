"""The use cases from a terminal: one file a command, calling the same desk functions as the window."""
