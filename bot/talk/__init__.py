"""The talk about one message, from a first look for danger to the replies: `answers.py` is the way through this room."""
