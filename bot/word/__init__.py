"""Sentences: an advice, a question or an acknowledgement as text for one person's language, units and channel. Pure."""
