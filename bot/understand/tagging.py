"""The passes that turn a row of words into tagged items, in the order in which each needs the one before."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.clock import clock_span, on_and_off
from bot.understand.dates import calendar_date, days_back
from bot.understand.items import Item, Quantity, Row, Rule, at, joined, kind_at, rewrite, text_at
from bot.understand.lexicon import matching, tagged, unit_forms
from bot.understand.numbers import number, number_range, starts_unit
from bot.understand.patterns import phrased
from bot.understand.quantities import (
    area,
    bare_unit,
    buckets,
    negative,
    per_time,
    quantity,
    quantity_range,
    shared_unit,
    times,
    together,
)
from bot.understand.statements import Context
from rules.units import celsius

_PUSHED = words.named("pushed")
_FINGERS = words.named("fingers")


def tagged_row(row: Row, language: str, context: Context) -> Row:
    """The row with numbers, quantities, days and words of the lists as items."""
    row = rewrite(rewrite(row, phrased(language)), by_finger)
    row = tagged(row, language)
    today = context.now.date()
    for rule in (
        negative,
        number,
        soil_temperature(context.units),
        clock_span,
        on_and_off,
        calendar_date(today, context.units),
        number_range,
        out_of_ten,
        quantity(context.units),
        bare_unit,
        together,
        shared_unit,
        area,
        buckets,
        times,
        quantity_range,
        per_time,
        days_back(today),
        lone_unit,
        about,
    ):
        row = rewrite(row, rule)
    return row


def soil_temperature(units: str) -> Rule:
    """The rule for "temp 65": a figure after the word is a temperature even without degrees."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        if row[place].text not in words.named("temperature_words"):
            return None
        figure_at = place + 1 + (text_at(row, place + 1) in ("is", "was", ":", "at", "of", "de", "es", "="))
        figure = at(row, figure_at)
        if figure is None or figure.kind != "number" or starts_unit(row, figure_at + 1):
            return None
        degrees_c = celsius(figure.value) if units == "us" else float(figure.value)
        return joined("quantity", Quantity("temperature", degrees_c), row[place : figure_at + 1]), figure_at + 1 - place

    return rule


def out_of_ten(row: Row, place: int) -> tuple[Item, int] | None:
    """ "6 out of 10", "4 de 10": a hand meter's scale."""
    figure, after = at(row, place), place + 1
    if figure is None or figure.kind != "number" or not 0 <= figure.value <= 10:
        return None
    while text_at(row, after) in ("out", "of", "de", "sobre", "on", "a", "scale", "out of"):
        after += 1
    ten = at(row, after)
    if after == place + 1 or ten is None or ten.kind != "number" or ten.value != 10:
        return None
    unit = matching(unit_forms(), row, after + 1) if at(row, after + 1) else None
    return (
        None
        if unit
        else (joined("quantity", Quantity("dial", figure.value), row[place : after + 1]), after + 1 - place)
    )


def about(row: Row, place: int) -> tuple[Item, int] | None:
    """ "como 40" asks nothing: it is about forty."""
    asks = row[place].text == "como" and kind_at(row, place + 1) in ("number", "quantity")
    return (replace(row[place], kind="word"), 1) if asks else None


def by_finger(row: Row, place: int) -> tuple[Item, int] | None:
    """A finger pushed in tells a depth to feel at, and is no rod."""
    near = row[place + 1 : place + 4]
    pushed = row[place].text in _PUSHED and any(item.text in _FINGERS for item in near)
    return (replace(row[place], text="dug"), 1) if pushed else None


def lone_unit(row: Row, place: int) -> tuple[Item, int] | None:
    """The name of a unit with no figure: "go with inches"."""
    item = row[place]
    if item.kind != "word" or len(item.text) < 2 or item.text in ("in", "ha", "bar", "me", "mar"):
        return None
    term = matching(unit_forms(), row, place)
    if term is None:
        return None
    return joined("unit", term.value, row[place : place + len(term.words)]), len(term.words)
