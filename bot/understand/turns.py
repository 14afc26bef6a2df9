"""Where a stretch without marks turns to another subject: "45 cb 12in yest 2hr", and what is dictated without a pause."""

from __future__ import annotations

from bot.understand import words
from bot.understand.hearsay import is_advice
from bot.understand.items import Item, Row, kind_at, text_at
from bot.understand.subjects import group, is_amount, is_length, is_measured, lists_catches

_NEEDS_HEAD = words.named("needs_head")
_BEFORE_SUBJECT = words.named("before_subject")


def cut_at_turns(stretch: Row) -> list[Row]:
    """A stretch without marks cut where it turns to another subject: "45 cb 12in yest 2hr"."""
    cuts = [0]
    for place in range(1, len(stretch)):
        cut = _head(stretch, cuts[-1], place)
        if cut > cuts[-1] and _turns(stretch[cuts[-1] : cut], stretch, place):
            cuts.append(cut)
    return [stretch[start:end] for start, end in zip(cuts, [*cuts[1:], len(stretch)], strict=True) if end > start]


def _head(stretch: Row, begun: int, place: int) -> int:
    """Where the subject that an item would open begins: what leads over to it goes with it."""
    dated = any(item.kind == "date" for item in stretch[place:])
    cut, lowest = place, begun + (begun > 0)
    while cut > lowest and _leads_over(stretch, cut - 1, place) and not (dated and stretch[cut - 1].kind == "date"):
        cut -= 1
    return cut


def _turns(before: Row, stretch: Row, place: int) -> bool:
    item = stretch[place]
    if item.kind in ("both", "zip"):
        return True
    if before[-1].kind == "number" and any(one.kind == "zip" for one in before):
        return True
    if lists_catches(before):
        return False
    measured = item.kind == "quantity" and item.value.dimension == "area"
    dripping = item.kind == "number" and kind_at(stretch, place + 1) == "emitter"
    if (item.kind in ("method", "soil") or measured or dripping) and _counts(before):
        return True
    if before[0].kind == "slash" and {one.kind for one in before[1:]} <= _HEADED and _waters(item):
        return False  # "3/7 shiraz irrigated 30 mm": a day at the head
    if item.kind == "soil" or any(one.kind == "soil" for one in before):
        return _tells_more(before, item)
    about = group(before)
    full = any(one.kind in ("quantity", "feel", "slash") or _is_figure(before, here) for here, one in enumerate(before))
    if item.kind == "ask":
        return _turns_to_asking(before, stretch, place, about, full=full)
    if about == "request":
        return item.kind == "instrument" and len(before) > 2 and _shows(stretch, place)
    if item.kind == "order":
        return about not in ("", "request")
    if about == "reading" and full and item.kind == "rain":
        return _follows_a_reading(before)
    if item.kind == "plot" and kind_at(stretch, place + 1) in _TOLD_OF_PLOT:
        return {"plot", "neg"} <= {one.kind for one in before}
    if item.kind == "neg" and about == "watering" and any(is_amount(one) for one in before):
        return True
    return _is_told(before, about, full=full) and _opens_another(stretch, place, about)


def _turns_to_asking(before: Row, stretch: Row, place: int, about: str, *, full: bool) -> bool:
    """Whether a word that asks opens a question after what was told, and is no part of it."""
    item = stretch[place]
    if before[0].kind == "both" and any(is_length(one) for one in before):
        return True
    turned = bool(about) and about != "request" and (full or about in ("rain", "watering", "sign"))
    plain = item.text in ("how", "should", "why") and len(before) > 2 and about in ("", "sign")
    if is_advice([*before, item]):
        return False
    heads = item.text not in _NEEDS_HEAD or kind_at(stretch, place + 1) in ("ask", "interrogative", "water")
    return (turned and (heads or text_at(stretch, place + 1) in ("now", "to"))) or plain


def _waters(item: Item) -> bool:
    return item.kind in ("watered", "gave") or is_amount(item)


_HEADED = {"plot", "name", "word"}


def _follows_a_reading(before: Row) -> bool:
    """Whether what stands before rain is a reading of its own, and no depth or chance of that rain."""
    if any(one.text in ("chance", "probabilidad") for one in before):
        return False
    if any(one.kind in ("plot", "instrument", "reads", "feel", "at") for one in before):
        return True
    return any(is_measured(one) for one in before)


def _is_told(before: Row, about: str, *, full: bool) -> bool:
    """Whether a stretch has said what it is about, so that what follows may be another subject."""
    if about == "watering":
        spread = any(is_length(one) for one in before) and not any(one.text in _GOT for one in before)
        return spread or any(is_amount(one) or one.kind == "watered" for one in before)
    if before[0].kind == "both":
        return any(is_length(one) for one in before)
    return about in ("rain", "sign") or (about == "reading" and full)


def _opens_another(stretch: Row, place: int, about: str) -> bool:
    """Whether an item opens another subject than the one told: the verb, value or sign of that subject."""
    item = stretch[place]
    if item.kind == "rain":
        return about in ("watering", "sign")
    if item.kind == "watered":
        return about != "watering"
    if item.kind == "gave":
        near = stretch[max(0, place - 1) : place + 4]
        runs = any(one.kind == "method" for one in near)
        return about != "watering" and (runs or _amount_follows(stretch, place))
    if item.kind == "quantity":
        return text_at(stretch, place - 1) not in _WITHIN and (
            (about == "reading" and is_amount(item)) or (about == "watering" and item.value.dimension in _READ)
        )
    if item.kind == "sign":
        return about != "sign"
    if item.text in _WAS and about == "reading":
        return {"number", "date"} <= {one.kind for one in stretch[max(0, place - 1) : place + 4]}
    if item.text in _HEAT and any(one.kind in ("number", "quantity") for one in stretch[place + 1 : place + 4]):
        return about in ("rain", "watering")
    if item.kind == "plan":
        doing = any(one.kind in _DOING or one.text in _RUN for one in stretch[place + 1 : place + 5])
        return about != "sign" and (doing or " " in item.text)
    return item.kind in ("ground", "instrument") and about in ("watering", "rain") and _shows(stretch, place)


def _shows(stretch: Row, place: int) -> bool:
    """Whether a value is told of the soil or probe here: "the soil is still dry", "the meter says 40"."""
    near = [one.kind for one in stretch[place + 1 : place + 5]]
    return "feel" in near or ("reads" in near and bool({"number", "quantity"} & set(near)))


_HEAT = words.named("heat_told")
_WAS = words.named("was")
_TOLD_OF_PLOT = ("instrument", "reads", "interrogative")
_GOT = words.named("got")  # "got half an inch of rain"
_DOING = ("water", "watered", "gave")
_RUN = words.named("run_words")


_READ = ("tension", "resistance", "percent", "dial")


def _is_figure(before: Row, place: int) -> bool:
    """Whether an item is a figure that is told of something: the 2 of "zone 2" only names."""
    return before[place].kind == "number" and not (place and before[place - 1].text in _NUMBERED)


_NUMBERED = words.named("numbered")


def _counts(before: Row) -> bool:
    """ "40 apple trees on drip": the equipment after a count is told for itself."""
    kinds = [item.kind for item in before]
    if (
        not kinds
        or any(kind in ("watered", "gave", "quantity", "each", "per", "date") for kind in kinds)
        or "number" not in kinds
    ):
        return False
    after = kinds[kinds.index("number") + 1 :]
    return bool(after) and after[0] in ("plot", "thing", "name")


def _tells_more(before: Row, item: Item) -> bool:
    """ "apples loam 0.2 in/h": a value, a rate or the equipment beside the soil is told for itself."""
    if item.kind == "soil":
        return any(is_measured(one) or one.kind == "method" for one in before)
    return is_measured(item) or item.kind == "method"


def _amount_follows(stretch: Row, place: int) -> bool:
    return any(is_amount(item) for item in stretch[place:])


_HAVE = words.named("have")
_BEFORE_SIGN = words.named("before_sign")
_OF = ("of", "de")
_WITHIN = ("in", "within")
_OF_NOW = (
    "ask",
    "order",
    "sign",
    "ground",
    "instrument",
    "plan",
)  # they tell of today, so that a day before them is of what was told


def _is_of_before(stretch: Row, place: int) -> bool:
    """ "las peras hora y media el viernes los melones nada": the day of an amount without one, before another plot."""
    after = place + 1 + (text_at(stretch, place + 1) in _ARTICLES)
    told = any(is_amount(item) for item in stretch[:place]) and not any(item.kind == "date" for item in stretch[:place])
    return told and kind_at(stretch, after) == "plot"


_ARTICLES = words.named("between")


def _leads_over(stretch: Row, place: int, head: int) -> bool:
    """Whether an item before a new subject belongs to it: its day, its plot when the first subject has one."""
    item = stretch[place]
    if item.text in ("if", "si"):
        return True
    if item.kind == "date" and (text_at(stretch, place - 1) in _OF or kind_at(stretch, place + 1) == "neg"):
        return False  # "la lluvia de ayer", "ran it monday no rain"
    if item.kind == "date" and stretch[head].kind == "neg" and _is_of_before(stretch, place):
        return False
    if item.kind == "date" and stretch[head].kind in _OF_NOW:
        return stretch[head].kind == "plan" and item.value.fault == "future"
    if stretch[head].kind == "zip":
        return item.text in ("my", "our", "mi", "el", "the")
    if item.kind in ("date", "slash", "gave", "method") or item.text in _BEFORE_SUBJECT:
        return True
    if item.kind == "neg":
        return stretch[head].kind in ("rain", "watered", "gave")
    if stretch[head].kind in ("rain", "watered") and item.text in _HAVE:
        return True
    if stretch[head].kind == "sign" and (item.kind in ("interrogative", "reads") or item.text in _BEFORE_SIGN):
        return True
    if is_amount(stretch[head]) and item.text in _OF:
        return True
    if stretch[head].kind == "rain" and (item.text in _OF or (is_length(item) and text_at(stretch, place + 1) in _OF)):
        return True
    return item.kind == "plot" and any(one.kind == "plot" for one in stretch[:place])
