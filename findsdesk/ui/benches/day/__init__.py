"""The bench "The day": where everything stands, what needs a person, every sherd of the season, the evening."""
