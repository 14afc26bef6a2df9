"""What no reader took: whether it looks like a report, a question or an order, or is chatter."""

from __future__ import annotations

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item, at
from bot.understand.requests import is_question

_TELLING = (
    *("pest", "watered", "water", "method", "instrument", "emitter", "ground", "quantity", "number", "slash"),
    *("soilword", "root", "rain", "feel", "sign", "habit", "planted"),
)
_NAMING = ("one", "thing", "plot", "name", "all", "said")
_OTHER_DOING = words.named("other_doing")
_CHATTER = words.named("chatter")


def says_something(clause: Clause) -> bool:
    """Whether what no reader took looks like a report, a question or an order, and not like chatter."""
    if clause.has("chat") and not clause.has("number", "quantity", "pest", "plan", "water"):
        return False
    if {item.kind for item in clause.items} <= _OF_NOTHING and clause.has("neg"):
        return False
    if (clause.has("feel") and clause.has("neg")) or _is_fine(clause):
        return False
    if clause.says(*_PRAISE) and not clause.asks and not clause.has(*_TELLING, "neg", "ask"):
        return False  # "lovely sunrise over the vines"
    if clause.says(*_ROUNDS) and not clause.has("plot", "name", "water", "watered", "gave", "method", "number"):
        return False  # "weekly round from the school"
    if clause.says(*_CHATTER) and not clause.has("plot", "water", "watered", "rain", "ask"):
        return False
    telling = [item for item in clause.every(*_TELLING) if not _is_stretch_of_time(item)]
    if clause.asks or is_question(clause) or telling or (clause.has("rod") and clause.has("neg", "plan")):
        return True
    others = [item for item in clause.items if item.kind not in _NAMING and len(item.text) > 3]
    return clause.has("plot", "name") and bool(others)


_ROUNDS = words.named("rounds_made")
_PRAISE = words.named("praise")
_OF_NOTHING = {"plot", "name", "neg", "word", "mark", "chat", "thing", "one"}  # "block 8 not yet"


def _is_fine(clause: Clause) -> bool:
    """ "los chiles estan bien", "peppers are doing ok": nothing to do, and nothing told."""
    return (
        clause.items[-1].text in _FINE
        and not clause.asks
        and not clause.has("number", "quantity", "feel", "sign", "neg")
    )


_FINE = words.named("fine")


def _is_stretch_of_time(item: Item) -> bool:
    """ "we were gone a week" tells nothing of the plot."""
    return item.kind == "quantity" and item.value.dimension == "days"


def is_remark(clause: Clause) -> bool:
    """Whether a clause is chatter where the message reports something else: "two of my workers were sick".

    It asks and shows nothing and has no figure; or its head is no plot or probe, and its figures count or date something.
    """
    if clause.asks or is_question(clause):
        return False
    if not clause.has("number", "quantity", "slash", *_OF_WATER):
        return True  # "the probe is broken so I dug a hole"
    if (
        clause.says(*_OUT_OF_ORDER)
        and clause.has("emitter", "method")
        and not clause.has("watered", "gave", "quantity")
    ):
        return True  # "two of the heads are clogged"
    if clause.has(*_OF_A_REPORT):
        return False
    if clause.says(*_OTHER_DOING) and not clause.has("gave"):
        return True  # "picked 12 pints of strawberries"
    subject = next(
        (item for item in clause.items if item.kind not in _BEFORE_SUBJECT and item.text not in _SMALL), None
    )
    if subject is None or subject.kind in _SUBJECTS:
        return False
    figures = [place for place, item in enumerate(clause.items) if item.kind in ("number", "quantity")]
    return all(_is_idle(clause, place) for place in figures)


_OUT_OF_ORDER = words.named("out_of_order")
_OF_A_REPORT = ("ask", "feel", "sign", "pest", "rain", "soil", "watered", "water", "emitter", "root", "slash")
_OF_WATER = ("pest", "habit", "watered", "gave", "rain", "planted", "plan")
_SUBJECTS = ("plot", "name", "all", "thing", "instrument", "ground", "method")
_BEFORE_SUBJECT = ("chat", "mark", "date", "one")
_SMALL = words.named("between") | words.named("links")


def _is_idle(clause: Clause, place: int) -> bool:
    """Whether a figure counts something that nobody waters, or is an hour or money."""
    item, before, after = clause.items[place], at(clause.items, place - 1), at(clause.items, place + 1)
    if item.kind == "quantity":
        return _is_stretch_of_time(item)
    if before is not None and (before.kind == "at" or before.text in _AT_AN_HOUR):
        return float(item.value) in range(1, _LAST_HOUR + 1)
    counts = after is not None and (after.kind in ("thing", "name", "instrument") or after.text in _OF)
    return counts or (after is not None and after.kind == "word" and after.text not in _AFTER_A_VALUE)


_AT_AN_HOUR = words.named("at_an_hour")
_LAST_HOUR = 12
_OF = ("of", "de")
_AFTER_A_VALUE = words.named("after_a_value")
