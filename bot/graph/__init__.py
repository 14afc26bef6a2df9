"""One picture of a plot's water over the season: its data, its drawing, and its words for who can't see it."""
