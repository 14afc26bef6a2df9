"""Water told in vessels: "two 5 gallon buckets", "3 regaderas de 8 litros"."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Quantity, Row, at, joined, text_at
from rules.units import LITRES_PER_GALLON

_VESSELS = words.named("quantities_vessels")


def _is_volume(item: Item | None) -> bool:
    return item is not None and item.kind == "quantity" and item.value.dimension == "volume"


def buckets(row: Row, place: int) -> tuple[Item, int] | None:
    """ "two 5 gallon buckets", "2 cubetas de 5 galones": so many vessels of a volume."""
    first, second = at(row, place), at(row, place + 1)
    if first is None or second is None:
        return None
    if first.kind == "number" and _is_volume(second) and text_at(row, place + 2) in _VESSELS:
        return joined("quantity", Quantity("volume", first.value * second.value.value), row[place : place + 3]), 3
    inner = at(row, place + 2)
    filled = inner is not None and at(row, place + 3) is not None and inner.text in ("de", "of")
    if first.kind in ("number", "one") and second.text in _VESSELS and filled and _is_volume(row[place + 3]):
        litres = float(first.value) * row[place + 3].value.value
        return joined("quantity", Quantity("volume", litres), row[place : place + 4]), 4
    vessels = _is_volume(first) and first.text.split()[-1] in _VESSELS
    if vessels and second.text in ("de", "of") and inner is not None and _is_volume(inner):
        count = first.value.value / _BUCKET_LITRES
        return joined("quantity", Quantity("volume", count * inner.value.value), row[place : place + 3]), 3
    return None


_BUCKET_LITRES = 5 * LITRES_PER_GALLON
