"""Corrections: "sorry, 54 not 45" takes the last entry back and gives it anew; "45 no wait 54" is just 54."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.items import Item, Quantity, Row, at, kind_at, text_at
from bot.understand.quantities import unit_size

_CORRECTED = ("number", "quantity", "slash", "plot", "date")
_POINTERS = words.named("pointers")
_OF_THE_PAST = words.named("of_the_past")
_LOOSE = words.named("loose")
_NEGATIVES = frozenset({"no", "nope", "nop"})
_POINTED_AT = words.named("pointed_at")
_REJECTING = words.named("rejecting")
_BEFORE_RIGHT_VALUE = words.named("before_right_value")
_BEFORE_RIGHT = ("mark", "correct", "sorry", "neg", "reads", "one")
_ARTICLES = words.named("articles")
_LOOK_BACK = 40
_ONLY = ("only", "solo", "nomas", "solamente")
_INTERJECTIONS = words.named("interjections")


def corrected(row: Row, language: str) -> tuple[Row, bool]:
    """The row with its corrections carried out, and whether it takes back an entry of before."""
    row, takes_back = _but_it_was(row)
    if not takes_back:
        row, takes_back = _opening(row)
    row = _thought_better(row, language)
    if row and row[-1].kind == "correct" and row[-1].text not in _LOOSE and not takes_back:
        row, takes_back = row[:-1], True
    row, replaced = _without_rejected(row)
    row = _past_pointers(row, 0) if replaced else row
    out: Row = []
    place = 0
    while place < len(row):
        item = row[place]
        if _is_correction(row, place):
            target = _target(row, place)
            if target is not None and _replace_last(out, row, target):
                out = _without_no(out)
                takes_back = takes_back or item.text in _OF_THE_PAST
                place = target + 1
                continue
            if item.kind == "correct" and item.text not in _LOOSE:
                place += 1
                continue
        out.append(item)
        place += 1
    return out, takes_back or replaced


def _without_no(out: Row) -> Row:
    """The row without the "no" that led to a correction: "friday, no i mean thursday"."""
    end = len(out)
    while end and (out[end - 1].text in _NEGATIVES or out[end - 1].is_mark(",", "-")):
        end -= 1
    return out[:end]


def _opening(row: Row) -> tuple[Row, bool]:
    """A correction at the head of the message: of what was said before it."""
    place = 0
    while (
        kind_at(row, place) == "chat"
        or text_at(row, place) in _INTERJECTIONS
        or (kind_at(row, place) == "mark" and place and row[place].text in ",.!-")
    ):
        place += 1
    first = at(row, place)
    if first is None:
        return row, False
    if first.kind == "correct" and (first.text not in _LOOSE or _something_follows(row, place + 1)):
        return _past_pointers(row, place + 1), True
    if first.kind in ("correct", "sorry") and any(
        told(row, place + 1) for told in (_rain_was, _soil_is_another, _was_of_another)
    ):
        return _past_pointers(row, place + 1), True
    negative = first.text in _NEGATIVES
    if first.kind == "sorry" or negative:
        after = place + 1
        while kind_at(row, after) in ("mark", "sorry", "correct") and (
            kind_at(row, after) != "mark" or row[after].text in ",.-!"
        ):
            if kind_at(row, after) == "correct":
                return _past_pointers(row, after + 1), True
            after += 1
        marked = after > place + 1
        if (
            kind_at(row, after) in ("number", "quantity")
            and (not negative or marked)
            and not _continues_oddly(row, after)
        ):
            return row[after:], True
        text = getattr(at(row, after), "text", "")
        if text == "not" or (text in _POINTED_AT and _something_follows(row, after)):
            return _past_pointers(row, after), True
    return row, False


def _rain_was(row: Row, place: int) -> bool:
    """ "oops, the rain was .05": told of the rain of before, where a new one would have its day."""
    while text_at(row, place) in _ARTICLES or kind_at(row, place) in ("mark", "sorry", "correct"):
        place += 1
    told = kind_at(row, place) == "rain" and text_at(row, place + 1) in _WAS
    figure_at = place + 2
    while kind_at(row, figure_at) in ("word", "one") and figure_at < place + 4:
        figure_at += 1
    dated = any(item.kind == "date" for item in row)
    return told and not dated and kind_at(row, figure_at) in ("number", "quantity", "slash")


_WAS = words.named("past_copulas")


def _soil_is_another(row: Row, place: int) -> bool:
    """ "perdone, el suelo no es arcilla, es franco": one soil denied, another told."""
    told = [item.kind for item in row[place : place + _SOON] if item.kind in ("neg", "soil")]
    return told in (["neg", "soil", "soil"], ["soil", "neg", "soil"])


_SOON = 12


def _was_of_another(row: Row, place: int) -> bool:
    """ "disculpe, la lectura de 60 era de las peras": a figure of before, and the plot that it was of."""
    for here in range(place, min(place + _SOON, len(row) - 2)):
        if row[here].kind in ("number", "quantity") and text_at(row, here + 1) in _WAS:
            plot_at = here + 2 + (text_at(row, here + 2) in _ARTICLES)
            plot_at += text_at(row, plot_at) in _ARTICLES
            return plot_at > here + 2 and kind_at(row, plot_at) == "plot"
    return False


def _continues_oddly(row: Row, place: int) -> bool:
    """ "sorry 2 days late" is an excuse, no correction."""
    item = row[place]
    return item.kind == "quantity" and item.value.dimension == "days"


def _something_follows(row: Row, place: int) -> bool:
    """Whether a value, plot or day comes soon, before other talk."""
    for item in row[place : place + 6]:
        if item.kind in _CORRECTED:
            return True
        if item.kind in ("watered", "rain", "ask", "gave", "feel", "water"):
            return False
    return False


def _past_pointers(row: Row, place: int) -> Row:
    """What follows, without "that was", "it is" and marks."""
    while (item := at(row, place)) is not None and _points(item):
        place += 1
    return row[place:]


def _points(item: Item) -> bool:
    """Whether an item only points to what was said before."""
    if item.text in _POINTERS or item.is_mark(",", ".", ":", "-", "!"):
        return True
    return item.kind == "sorry" or (
        item.kind in ("correct", "reads")
        and item.text in ("i meant", "should be", "perdon", "its", "it is", "wrong number")
    )


def _without_rejected(row: Row) -> tuple[Row, bool]:
    """ "54 not 45", "not 45 but 54": what is rejected goes. An entry of before is taken back."""
    for place in range(1, len(row) - 1):
        item, after_at = row[place], place + 1
        after = row[after_at]
        if item.kind not in ("neg", "rather_than") or item.text not in _REJECTING:
            continue
        while after.text in _ARTICLES and after_at + 1 < len(row):
            after_at += 1
            after = row[after_at]
        before = _rejected_for(row, place, after)
        if before is not None and after.kind in ("number", "quantity", "plot", "date") and _alike(before, after):
            end = after_at + 1
            start = place - (row[place - 1].is_mark(",") or text_at(row, place - 1) in _AND)
            told = any(one.text in _ONLY for one in row[:place])
            return [*row[:start], *row[end:]], not told  # "it only ran 20 minutes instead of 40"
    return _not_but(row)


def _thought_better(row: Row, language: str) -> Row:
    """ "2 hrs, no 3 hrs", "monday no tuesday", "2 horas, no, 3 horas": the later is right. Spanish "2, no 3" says 2."""
    for place in range(1, len(row) - 1):
        if row[place].text != "no":
            continue
        before_at = place - 1 - row[place - 1].is_mark(",", "-", ".")
        after_at = place + 1 + row[place + 1].is_mark(",")
        before, right = at(row, before_at), at(row, after_at)
        if before is None or right is None or not _alike(before, right) or before.kind not in _CORRECTED:
            continue
        if language == "en" or after_at == place + 2:
            return [*row[:before_at], _with_unit_of(before, right), *row[after_at + 1 :]]
    return row


def _but_it_was(row: Row) -> tuple[Row, bool]:
    """ "I said 2 hours but it was 3", "no eran 45, eran 54": the second is right, of an entry of before."""
    for place, item in enumerate(row[:-3]):
        if item.text not in _SAID_WRONGLY:
            continue
        wrong_at = _said_at(row, place + 1)
        wrong = at(row, wrong_at)
        if wrong is None or wrong.kind not in _CORRECTED:
            continue
        right_at, turns = wrong_at + 1, False
        while (link := at(row, right_at)) is not None and (link.is_mark(",") or link.text in _TURNS | _ARTICLES):
            turns = turns or link.text in _TURNS
            right_at += 1
        right = at(row, right_at)
        if right is not None and turns and _alike(wrong, right):
            return [*row[:place], *row[place + 1 : wrong_at], _with_unit_of(wrong, right), *row[right_at + 1 :]], True
    return row, False


def _said_at(row: Row, place: int) -> int:
    """Where what was said wrongly stands: in "I said the pothos was 7" the figure, past the plot that it was told of."""
    here = place
    while text_at(row, here) in _ARTICLES | _TOLD:
        here += 1
    if kind_at(row, here) == "plot" and (text_at(row, here + 1) in _WAS or kind_at(row, here + 1) in _TELLS):
        after = here + 2
        return after if kind_at(row, after) in ("number", "quantity") else here
    return here


_TOLD = frozenset({"you", "u", "ya"})
_TELLS = ("at", "gave", "watered", "reads", "interrogative")
_SAID_WRONGLY = words.named("said_wrongly") | words.named("changing")
_TURNS = words.named("turns_to_right")


def _rejected_for(row: Row, place: int, wrong: Item) -> Item | None:
    """What stands in the place of the item rejected: right before, or for a figure with its plot and depth between.

    "2 horas de riego y no 3", "38 cb a 24 in, no a 12"; "los tomates y no el maiz" rejects nothing that was said before.
    """
    figure = wrong.kind in ("number", "quantity")
    for before in reversed(row[max(0, place - _FARTHEST) : place]):
        if before.kind == "mark" and not before.is_mark(","):
            return None
        aside = before.is_mark(",") or before.kind in _ASIDE or before.text in _IN_ALL
        if _alike(before, wrong) or not (figure or aside):
            return before
    return None


_FARTHEST = 7
_AND = frozenset({"and", "y", "e"})
_ASIDE = ("deep", "each", "filler")
_IN_ALL = words.named("in_all")


def _alike(one: Item, other: Item) -> bool:
    values = ("number", "quantity")
    return one.kind == other.kind or (one.kind in values and (other.kind in values or _part(other) is not None))


def _part(item: Item) -> float | None:
    """What 3/4 is as a part of one, None where it is no such pair of figures."""
    if (
        item.kind != "slash"
        or len(item.value) != 2
        or not 0 < item.value[0] < item.value[1]
        or item.value[1] not in _PARTS
    ):
        return None
    return float(item.value[0] / item.value[1])


_PARTS = (2, 3, 4, 8, 16)


def _not_but(row: Row) -> tuple[Row, bool]:
    for place in range(len(row) - 3):
        wrong_at = place + 1 + (row[place + 1].text in _ARTICLES)
        if row[place].text in ("not", "no") and row[wrong_at].kind in ("number", "quantity", "plot", "date"):
            rest = wrong_at + 1 + (text_at(row, wrong_at + 1) == ",")
            rest += rest > wrong_at + 1 and text_at(row, rest) in _ARTICLES
            right = at(row, rest)
            if rest > wrong_at + 1 and right is not None and _alike(row[wrong_at], right):
                return [*row[:place], *row[rest:]], True
            if getattr(right, "text", "") in ("but", "sino"):
                return [*row[:place], *row[rest + 1 :]], True
    return row, False


def _is_correction(row: Row, place: int) -> bool:
    item = row[place]
    if item.kind == "correct":
        return True
    after = place + 1 + (kind_at(row, place + 1) == "mark")
    return item.kind == "sorry" and place > 0 and kind_at(row, after) in ("number", "quantity")


def _target(row: Row, place: int) -> int | None:
    """Where the right value stands after a word of correction."""
    for here in range(place + 1, min(place + 7, len(row))):
        item = row[here]
        if item.kind in _CORRECTED:
            return here
        if item.kind not in _BEFORE_RIGHT and item.text not in _POINTERS | _BEFORE_RIGHT_VALUE:
            return None
    return None


def _replace_last(out: Row, row: Row, target: int) -> bool:
    """Put the right value in the place of the latest one of its kind."""
    right = row[target]
    for place in range(len(out) - 1, max(-1, len(out) - _LOOK_BACK), -1):
        wrong = out[place]
        if not _alike(wrong, right) or (kind_at(out, place - 1) == "at" and kind_at(row, target - 1) != "at"):
            continue
        if wrong.kind == "quantity" and right.kind == "quantity" and wrong.value.dimension != right.value.dimension:
            continue
        out[place] = _with_unit_of(wrong, right)
        return True
    return False


def _with_unit_of(wrong: Item, right: Item) -> Item:
    """The right figure, with the unit of the wrong one where it has none."""
    figure = _part(right) if right.kind == "slash" else right.value if right.kind == "number" else None
    unit = unit_size(wrong) if wrong.kind == "quantity" and figure is not None else None
    if unit is None or figure is None:
        return right
    return replace(right, kind="quantity", value=Quantity(wrong.value.dimension, float(figure) * unit))
