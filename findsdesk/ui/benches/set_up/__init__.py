"""The bench "Set-up": words, settings, seasons, people, lists, tags out, and where everything lies."""
