"""The agronomy of dropline, pure: a plot, what was observed, the weather and a day in; advice out."""

from rules.advice import advise

__all__ = ["advise"]
