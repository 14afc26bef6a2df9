"""What the tests of the channels share."""

from telegram_town import api, begin, clock, town

__all__ = ["api", "begin", "clock", "town"]
