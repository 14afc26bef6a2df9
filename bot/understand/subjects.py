"""What a stretch of items is about, and whether it can stand alone."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Row

STRONG = frozenset(
    {"watered", "gave", "rain", "feel", "sign", "soil", "soilword", "method", "instrument", "rod", "root", "trunk"}
    | {"container", "emitter", "ask", "planted", "correct", "pest", "water", "stress", "stage", "plan", "neg", "span"}
    | {"coordinates", "postal", "grows", "doubt", "old", "zip", "order"}
)
VALUES = frozenset({"tension", "resistance", "percent", "dial", "flow", "rate", "area", "daily", "habit"})
_WEAK = frozenset(
    {
        "number",
        "slash",
        "quantity",
        "date",
        "plot",
        "all",
        "at",
        "deep",
        "each",
        "thing",
        "name",
        "unit",
        "part",
        "both",
    }
    | {"reads", "clock", "ordinal", "ground", "dunno"}
)
AMOUNTS = ("duration", "volume")


_FACTS = frozenset(
    {
        "soil",
        "grows",
        "coordinates",
        "postal",
        "zip",
        "root",
        "trunk",
        "container",
        "emitter",
        "planted",
        "stress",
        "stage",
    }
)


def group(items: Row | tuple[Item, ...]) -> str:
    """What a stretch is about: `request`, `rain`, `watering`, `reading`, `fact`, `sign`, or nothing."""
    kinds = {item.kind for item in items}
    dimensions = {item.value.dimension for item in items if item.kind == "quantity"}
    if kinds & {"ask", "order"}:
        return "request"
    if "rain" in kinds:
        return "rain"
    if kinds & {"watered"} or (kinds & {"gave"} and not dimensions & VALUES):
        return "watering"
    if dimensions & {"tension", "resistance", "percent", "dial"} or kinds & {"feel", "rod"}:
        return "reading"
    if kinds & _FACTS or dimensions & VALUES:
        return "fact"
    if kinds & {"instrument"}:
        return "reading"
    if "sign" in kinds:
        return "sign"
    if "water" in kinds:
        return "watering"
    if dimensions & set(AMOUNTS):
        return "watering"
    if kinds & {"number", "slash"} and "each" not in kinds:
        return "reading"
    return ""


def strength(piece: Row) -> str:
    for item in piece:
        if item.kind in STRONG or (item.kind == "quantity" and item.value.dimension in VALUES):
            return "strong"
    return "weak" if any(item.kind in _WEAK for item in piece) else "empty"


def lists_catches(items: Row) -> bool:
    """Whether a stretch lists the catches of a can test, which belong together with their minutes."""
    return sum(item.kind == "slash" for item in items) >= 2 or any(item.text in _CANS for item in items)


_CANS = words.named("cans")


def is_measured(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension in VALUES


def is_amount(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension in AMOUNTS


def is_length(item: Item) -> bool:
    return item.kind == "quantity" and item.value.dimension == "length"
