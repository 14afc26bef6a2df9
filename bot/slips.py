"""A slip set right: the new statement, with what it leaves unsaid taken from the one that was taken back."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from bot.understand.statements import Reading, Statement, Watering


def as_before(statement: Statement, undone: list[Statement] | None) -> Any:
    """A corrected statement, with what it does not repeat taken from the one that was taken back."""
    bare = isinstance(statement, Reading) and statement.quantity == "bare"
    for old in undone or ():
        if isinstance(old, Watering) and _number_alone(statement):
            return _another_amount(old, float(statement.value))  # type: ignore[attr-defined]
        if bare and isinstance(old, Reading):
            statement = replace(statement, quantity=old.quantity)  # type: ignore[call-arg]
        if type(old) is type(statement):
            gaps = {
                each.name: getattr(old, each.name)
                for each in fields(old)
                if each.name in ("depth_cm", "plot", "soil_temp_c") and getattr(statement, each.name) is None
            }
            return replace(statement, **gaps)
    return statement


def _number_alone(statement: Statement) -> bool:
    return isinstance(statement, Reading) and statement.quantity != "feel" and statement.depth_cm is None


def _another_amount(old: Watering, amount: float) -> Watering:
    """A watering with another number in the place of its own: a number alone can only be minutes."""
    return replace(old, minutes=amount, depth_mm=None, litres=None, litres_each=None)
