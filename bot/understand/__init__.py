"""Reading a message: text and context in, statements out. Pure."""

from bot.understand.read import can_depths_mm, read
from bot.understand.statements import (
    Asked,
    Context,
    Fact,
    Rain,
    Reading,
    Request,
    Sign,
    Statement,
    Unclear,
    Understood,
    Watering,
    context_from_json,
    understood_to_json,
)

__all__ = [
    "Asked",
    "Context",
    "Fact",
    "Rain",
    "Reading",
    "Request",
    "Sign",
    "Statement",
    "Unclear",
    "Understood",
    "Watering",
    "can_depths_mm",
    "context_from_json",
    "read",
    "understood_to_json",
]
