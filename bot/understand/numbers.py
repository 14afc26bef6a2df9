"""Numbers: digits, words, fractions and ranges.

`number` and `ordinal` items come out. A pair of figures such as 6/28 or 12/24 stays a `slash`: its clause tells whether it
is a date, a pair of depths or a fraction.
"""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Item, Row, at, joined, kind_at, text_at
from bot.understand.lexicon import matching, unit_forms

_ARTICLES = words.named("quantities_articles") - {"an", "all", "each"}
_LEAST_OF_RANGE = 5  # "2 5 gallon buckets" counts them
_SPOKEN = ("small", "tens", "hundreds", "scale")
_PARTS_OF_A_UNIT = (2, 3, 4, 5, 8, 10, 16, 32)
_MOST_WORDS = 8
_SUFFIXES = ("st", "nd", "rd", "th")


def starts_unit(row: Row, place: int) -> bool:
    """Whether a form of some unit stands here."""
    item = at(row, place)
    if item is None or (item.text == "in" and not item.glued and text_at(row, place + 1) in _ARTICLES):
        return False
    return matching(unit_forms(), row, place) is not None


def number(row: Row, place: int) -> tuple[Item, int] | None:
    """A number, ordinal or slash pair that begins here."""
    return _figures(row, place) or _spoken_number(row, place) or _part_of_unit(row, place)


def _figures(row: Row, place: int) -> tuple[Item, int] | None:
    if row[place].kind != "number":
        return None
    return (
        _ordinal(row, place) or _mixed(row, place) or _slash(row, place) or _and_a_part(row, place, row[place].value, 1)
    )


def _ordinal(row: Row, place: int) -> tuple[Item, int] | None:
    suffix = at(row, place + 1)
    if suffix is None or not suffix.glued or suffix.text not in _SUFFIXES:
        return None
    return joined("ordinal", row[place].value, row[place : place + 2]), 2


def _pair(row: Row, place: int) -> tuple[float, float] | None:
    """Figures a/b written without spaces."""
    stretch = row[place : place + 3]
    if len(stretch) < 3 or not (stretch[1].is_mark("/") and stretch[1].glued and stretch[2].glued):
        return None
    top, bottom = stretch[0], stretch[2]
    return (top.value, bottom.value) if top.kind == bottom.kind == "number" else None


def _is_part(pair: tuple[float, float] | None) -> bool:
    return pair is not None and pair[0] < pair[1] and pair[1] in _PARTS_OF_A_UNIT


def _mixed(row: Row, place: int) -> tuple[Item, int] | None:
    """ "1 1/2", "1-1/2", "1½", "1 and 1/2"."""
    whole = row[place].value
    if whole != int(whole):
        return None
    skip = 1 + (text_at(row, place + 1) in ("-", "and", "y") and kind_at(row, place + 2) == "number")
    second = at(row, place + skip)
    if second is None or second.kind != "number":
        return None
    if 0 < second.value < 1 and not second.text[0].isdigit() and second.text[0] != ".":
        return joined("number", whole + second.value, row[place : place + skip + 1]), skip + 1
    pair = _pair(row, place + skip)
    if pair is None or not _is_part(pair) or whole > 100 or (second.glued and skip == 1):
        return None
    return joined("number", whole + pair[0] / pair[1], row[place : place + skip + 3]), skip + 3


def _slash(row: Row, place: int) -> tuple[Item, int] | None:
    pair = _pair(row, place)
    if pair is None:
        return None
    longer = _pair(row, place + 2)
    if longer is not None:
        return joined("slash", (*pair, longer[1]), row[place : place + 5]), 5
    if _is_part(pair) and not (pair[1] == _TEN and kind_at(row, place + 4) == "plot"):
        after = _past_articles(row, place + 3)
        if starts_unit(row, after) and _pair(row, place - 3) is None:
            return joined("number", pair[0] / pair[1], row[place:after]), after - place
    return joined("slash", pair, row[place : place + 3]), 3


def _past_articles(row: Row, place: int) -> int:
    """Past "of an", "de la", "a": what may stand between a part and its unit."""
    here = place
    if text_at(row, here) in ("of", "de"):
        here += 1
    if kind_at(row, here) == "one":
        here += 1
    return here if starts_unit(row, here) else place


def _spoken_number(row: Row, place: int) -> tuple[Item, int] | None:
    """ "forty five", "twenty one hundred", "two point one", "ciento veinte"."""
    if text_at(row, place) in _POINTS and kind_at(row, place + 1) in ("small", "one"):
        value, used = _decimals(row, place)
        return joined("number", value, row[place : place + used]), used
    if kind_at(row, place) == "one" and not (kind_at(row, place + 1) == "scale" or _alone_counts(row, place)):
        return None
    if kind_at(row, place) not in (*_SPOKEN, "one"):
        return None
    value, used = _by_digits(row, place) or _hundreds_left_out(row, place) or _spoken(row, place)
    if text_at(row, place + used) in _POINTS:
        decimals, more = _decimals(row, place + used)
        value, used = value + decimals, used + more
    return _and_a_part(row, place, value, used)


def _by_digits(row: Row, place: int) -> tuple[float, int] | None:
    """ "four five" at the end of what is told: digits read one by one."""
    here = place
    while (kind_at(row, here) == "small" and float(row[here].value) < _TEN) or text_at(row, here) in _ONE:
        here += 1
    after = at(row, here)
    ends = after is None or after.kind in ("mark", "at") or here - place == _POSTAL_DIGITS
    if here - place < 2 or not ends or kind_at(row, place - 1) == "number":
        return None
    return float("".join(str(int(float(item.value))) for item in row[place:here])), here - place


def _hundreds_left_out(row: Row, place: int) -> tuple[float, int] | None:
    """ "one twenty", "two fifty five": so many hundred and so many."""
    first = row[place]
    digit = 1.0 if first.text == "one" else float(first.value) if first.kind == "small" else _TEN
    if digit >= _TEN or digit < 1 or kind_at(row, place + 1) != "tens":
        return None
    rest, used = _spoken(row, place + 1)
    return digit * 100 + rest, used + 1


_TEN = 10.0
_ONE = ("one", "uno")
_POSTAL_DIGITS = 5
_POINTS = ("point", "punto", "coma")


def _alone_counts(row: Row, place: int) -> bool:
    """Whether "a", "one", "una" is the number one here: before a unit or a range."""
    if kind_at(row, place + 1) in ("to", "or") and kind_at(row, place + 2) in ("small", "number"):
        return True
    if row[place].text not in ("a", "an") and (
        kind_at(row, place + 1) == "tens" or (text_at(row, place + 1) in _POINTS and kind_at(row, place + 2) in _SPOKEN)
    ):
        return True
    if kind_at(row, place + 1) == "emitter" or (row[place].text not in ("a", "an") and _part_follows(row, place + 1)):
        return True
    unit = matching(unit_forms(), row, place + 1) if starts_unit(row, place + 1) else None
    if unit is None or unit.value.startswith(("percent", "tension", "resistance", "temperature")):
        return False
    lettered = text_at(row, place) == "a" and len(text_at(row, place + 1)) <= 2
    return not lettered


def _part_follows(row: Row, place: int) -> bool:
    """ "one and a quarter", "una y media"."""
    part = place + 1 + (kind_at(row, place + 1) == "one")
    return text_at(row, place) in ("and", "y") and kind_at(row, part) == "part"


def _spoken(row: Row, place: int) -> tuple[float, int]:
    total, group, here, last = 0.0, 0.0, place, ""
    while (item := at(row, here)) is not None:
        if last == "tens" and (item.is_mark("-") or item.text == "y") and kind_at(row, here + 1) in ("small", "one"):
            here += 1
            continue
        if last in ("scale", "hundreds") and item.text in ("and", "y") and kind_at(row, here + 1) in ("small", "tens"):
            here += 1
            continue
        if not _continues(last, item, group) or here - place > _MOST_WORDS:
            break
        value = 1.0 if item.kind == "one" else float(item.value)
        if item.kind == "scale":
            group = max(group, 1.0) * value
            if value >= 1000:
                total, group = total + group, 0.0
        else:
            group += value
        last, here = item.kind, here + 1
    return total + group, here - place


def _continues(last: str, item: Item, group: float) -> bool:
    """Whether a number word may follow the one before it in the same number."""
    if item.kind in ("small", "one"):
        return last in ("", "scale", "hundreds") or (
            last == "tens" and float(item.value) < 10 and item.text not in ("a", "an")
        )
    if item.kind == "tens":
        return last in ("", "scale", "hundreds")
    if item.kind == "hundreds":
        return last == "" or (last == "scale" and group == 0)
    return item.kind == "scale" and (last != "" or float(item.value) >= _LEAST_SCALE)


_LEAST_SCALE = 12.0  # a dozen


def _decimals(row: Row, place: int) -> tuple[float, int]:
    digits, here = "", place + 1
    while text_at(row, here) == "one" or (kind_at(row, here) == "small" and float(row[here].value) < 10):
        digits += str(int(float(row[here].value)))
        here += 1
    if not digits and kind_at(row, here) in ("tens", "small"):
        value, used = _spoken(row, here)
        return float(f"0.{int(value)}"), used + 1
    return (float(f"0.{digits}") if digits else 0.0), here - place


def _and_a_part(row: Row, place: int, value: float, used: int) -> tuple[Item, int] | None:
    """The number, with "and a half" or "quarters" after it."""
    here = place + used
    if kind_at(row, here) == "part" and row[here].value not in ("0.5",) and value < 100:
        end = _past_articles(row, here + 1)
        return joined("number", value * float(row[here].value), row[place:end]), end - place
    if text_at(row, here) in ("and", "y"):
        part = here + 1 + (kind_at(row, here + 1) == "one")
        if kind_at(row, part) == "part":
            return joined("number", value + float(row[part].value), row[place : part + 1]), part + 1 - place
        parts = at(row, part + 1)
        if kind_at(row, part) in ("small", "number") and parts is not None and parts.kind == "part":
            value += float(row[part].value) * float(parts.value)
            return joined("number", value, row[place : part + 2]), part + 2 - place
    return joined("number", value, row[place:here]), used


def _part_of_unit(row: Row, place: int) -> tuple[Item, int] | None:
    """ "half an inch", "a quarter of an inch", "media pulgada": a part counts only before its unit."""
    here = place + (kind_at(row, place) == "one")
    if kind_at(row, here) != "part":
        return None
    end = _past_articles(row, here + 1)
    if not starts_unit(row, end):
        return None
    return joined("number", float(row[here].value), row[place:end]), end - place


def number_range(row: Row, place: int) -> tuple[Item, int] | None:
    """A range gives its midpoint: "30-40", "between 30 and 40", "de 30 a 40", "2 or 3"."""
    from_word = text_at(row, place) in ("de", "from", "desde") and kind_at(row, place + 1) == "number"
    opened = kind_at(row, place) == "between" or from_word
    first = place + opened
    low, link, high = at(row, first), at(row, first + 1), at(row, first + 2)
    if low is not None and link is not None and _is_spoken_range(row, first):
        return joined("number", (low.value + link.value) / 2, row[first : first + 2]), 2
    if low is None or link is None or high is None or low.kind != "number" or high.kind != "number":
        return None
    if {text_at(row, place - back) for back in (1, 2)} & _CHANGING:
        return None  # "change the 45 to 54"
    stretch = row[place : first + 3]
    if from_word and link.text in ("to", "a") and _came(row, place - 1):
        return joined("number", high.value, stretch), len(stretch)  # "went from 40 to 55": it is at 55
    if (
        not _links(row, first + 1, link, opened)
        or low.value >= high.value
        or (high.text.startswith("0") and high.value >= 1)
    ):
        return None
    return joined("number", (low.value + high.value) / 2, stretch), len(stretch)


def _came(row: Row, place: int) -> bool:
    return any(text in _CAME_FROM for text in (text_at(row, place), text_at(row, place).split(" ")[0]))


_CHANGING = words.named("changing")
_CAME_FROM = words.named("came_from")


def _is_spoken_range(row: Row, place: int) -> bool:
    """ "15 20 min": two figures close together before a unit of time or volume."""
    low, high = row[place], row[place + 1]
    if low.kind != "number" or high.kind != "number" or not _LEAST_OF_RANGE <= low.value < high.value <= 2 * low.value:
        return False
    unit = matching(unit_forms(), row, place + 2) if at(row, place + 2) else None
    return unit is not None and unit.value.startswith(("duration", "volume"))


def _links(row: Row, place: int, link: Item, opened: bool) -> bool:
    if link.is_mark("-") or link.kind in ("to", "or"):
        return True
    if link.text in ("and", "y"):
        return opened
    if link.text != "a":
        return False
    unit = matching(unit_forms(), row, place + 2) if at(row, place + 2) else None
    return opened or (unit is not None and not unit.value.startswith(("length", "unit length")))
