"""What people ask for: a verdict, an amount, a day, a graph, to stop. Patterns are in the word lists; the first that fits wins."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from bot.understand import words
from bot.understand.clauses import Clause
from bot.understand.items import Item
from bot.understand.naming import named_thing
from bot.understand.patterns import Fit, fits
from bot.understand.state import State
from bot.understand.statements import Fact, Request, Statement
from bot.understand.subjects import group
from bot.understand.tokens import fold

_OF_THE_PERSON = frozenset(["forecast", "list", "help", "start", "stop", "forget", "export", "person", "undo"])
_ALONE = frozenset(["forget", "undo", "why", "graph", "when", "export", "season", "list", "person"])
_TOLD = ("feel", "at", "sign", "reads", "soil", "stage")
_REPORTS = ("watered", "rain", "feel", "soil", "planted")
_OPENERS = words.named("requests_openers")


@cache
def _whole(language: str) -> dict[str, str]:
    """Whole message -> want, in one language."""
    rows = words.rows(f"{language}_phrases.csv")
    return {form: value for tag, value, forms in rows if tag == "whole" for form in forms.split("|")}


def whole_message(row_words: list[str], language: str, plot_words: int) -> tuple[Statement, str] | None:
    """A request or setting that is the whole message, such as STOP or GRAFICA, and its language; marks do not count."""
    if plot_words or len(row_words) > 4:
        return None
    said = " ".join(row_words)
    if said in ("english", "ingles"):
        return Fact(about="language", value="en"), language
    if said in ("espanol", "spanish"):
        return Fact(about="language", value="es"), language
    spoken = [one for one in words.LANGUAGES if said in _whole(one)]
    if not spoken:
        return None
    language = language if language in spoken else spoken[0]
    return Request(want=_whole(language)[said]), language


def requests(clause: Clause, state: State) -> list[Statement] | None:
    """The request that a clause makes, or None."""
    question = clause.asks or (is_question(clause) and not _is_reason(clause, state))
    if clause.has("dunno") and not clause.asks and not _asks_how_much(clause):
        return None
    texts = clause.texts()
    alone = _whole(state.language).get(" ".join(texts).removesuffix(" por favor"))
    if alone == "person" and _is_spoken_to(clause, state):
        return []
    if alone in _ALONE or (alone is not None and clause.asks):
        return _request(alone, clause, state)
    found = fits(texts, state.language)
    mild = any(fit.value == "undo" for fit in found)  # taking one entry back can be mended, forgetting all cannot
    skips = any(fit.value == "verdict" and fit.tag == "ask" and not fit.start for fit in found)
    found.sort(
        key=lambda fit: (
            fit.value == "help" or (mild and fit.value == "forget") or (skips and _is_reason_told(fit, texts))
        )
    )
    for fit in _outermost(found):
        if (fit.value == "other" and _is_of_day(fit, clause)) or (fit.value == "help" and _is_thanks(fit, clause)):
            continue
        ordered = fit.tag == "order" and _is_order(fit, clause, question=question)
        if ordered or (fit.tag == "ask" and question and not clause.has("pest")):
            return _request(fit.value, clause, state)
    return None


def _is_spoken_to(clause: Clause, state: State) -> bool:
    """ "Ingeniero, buenos dias": the title of who is written to, where more than a plea follows."""
    rest = fold(state.text[clause.end : clause.end + _NEXT])
    titled = clause.items[-1].text in _TITLES and rest.startswith(",")
    return titled and not clause.asks and rest.strip(" ,.!") not in _PLEAS


_NEXT = 40
_TITLES = words.named("titles")
_PLEAS = ("", "por favor", "porfavor", "porfa", "xfa", "gracias", "please", "por favor gracias")


def _is_reason_told(fit: Fit, texts: list[str]) -> bool:
    """ "can I skip today, it's supposed to rain": the rain is why, and not asked about."""
    return fit.value == "forecast" and any(text in _ITS for text in texts[: fit.start])


_ITS = ("its", "it is", "theyre", "they are", "weve", "since", "because")


def _asks_how_much(clause: Clause) -> bool:
    """ "not sure how long to run it", where "watered it, not sure how long" tells."""
    return not clause.has("rain", "watered") and (clause.has("water") or clause.says("to", "should"))


def parted(clause: Clause, state: State) -> list[Clause]:
    """What was told and what is asked after it without a mark: "ran it an hour sunday do you think that does it"."""
    if clause.items[0].kind in ("ask", "order", "interrogative") or not clause.has("quantity", "number"):
        return [clause]
    starts = [
        fit.start for fit in fits(clause.texts(), state.language) if fit.tag == "order" and fit.value in _ASKED_AFTER
    ]
    spelled = clause.spelled()
    for start in sorted(starts):
        head = next(place for place, item in enumerate(clause.items) if item.end >= spelled[start][2])
        while head and clause.items[head - 1].text in _OPENING_A_QUESTION:
            head -= 1
        before = clause.items[:head]
        if any(item.kind in ("quantity", "number") for item in before) and group(before) in (
            "watering",
            "rain",
            "reading",
        ):
            return [replace(clause, items=before, asks=False), replace(clause, items=clause.items[head:])]
    return [clause]


_ASKED_AFTER = ("verdict", "amount", "when", "why", "graph", "remind")
_OPENING_A_QUESTION = words.named("opening_a_question")


def _is_reason(clause: Clause, state: State) -> bool:
    """ "20 min porque se acabo el agua": told after something else in the same sentence, it asks nothing."""
    before = state.text[: clause.start].rstrip()
    return clause.items[0].text in _BECAUSE and bool(before) and before[-1] not in ".!?"


def _outermost(found: list[Fit]) -> list[Fit]:
    """The fits without an undo that a longer one holds: "de donde saca eso" asks why, "saca eso" alone would take back."""
    return [fit for fit in found if fit.value != "undo" or not any(_holds(other, fit) for other in found)]


def _holds(longer: Fit, fit: Fit) -> bool:
    return longer.start <= fit.start and fit.end <= longer.end and longer.end - longer.start > fit.end - fit.start


def _is_of_day(fit: Fit, clause: Clause) -> bool:
    """Whether words such as "en la noche" only tell the part of a day that was named ("hoy en la noche")."""
    spelled = clause.spelled()
    start, end = spelled[fit.start][1], spelled[fit.end - 1][2]
    dated = any(item.start <= start and end <= item.end for item in clause.every("date"))
    return dated or (fit.start > 0 and spelled[fit.start - 1][0] in _DAYS)


def _is_thanks(fit: Fit, clause: Clause) -> bool:
    """ "gracias por la ayuda" asks for none."""
    spelled = clause.spelled()
    start, end = spelled[fit.start][1], spelled[fit.end - 1][2]
    return any(item.start <= start and end <= item.end for item in clause.every("chat"))


_DAYS = words.named("days_before_part")


def is_question(clause: Clause) -> bool:
    """Whether a clause asks without a question mark: it opens with a word of asking, or turns to one."""
    named = False
    for item in clause.items:
        if item.kind == "ask":
            if item.text in _BECAUSE and clause.has(*_REPORTS) and not clause.asks:
                return False
            if item.text in ("when", "cuando") and clause.has("feel") and not clause.asks:
                return False
            return not clause.has("watered") or not is_loose(item)
        if item.kind == "interrogative":
            place = clause.items.index(item) + 1
            told = clause.items[place].kind if place < len(clause.items) else ""
            return not named and told not in _TOLD
        named = named or item.kind in ("plot", "thing", "name")
        if item.kind not in ("chat", "date", "plot", "thing", "name", "one", "daypart") and item.text not in _OPENERS:
            break
    return bool(asking(clause)) and not clause.has(*_REPORTS)


def asking(clause: Clause) -> list[Item]:
    """The words that ask wherever they stand; "no hace falta regar" tells."""
    return [
        item
        for place, item in enumerate(clause.items)
        if item.kind == "ask" and not is_loose(item) and not (place and clause.items[place - 1].text == "no")
    ]


_BECAUSE = words.named("because")


def is_loose(item: Item) -> bool:
    """Words that ask only at the head of a clause: "when I squeezed it", "lo que puse"."""
    return item.text in _ASKS_AT_HEAD


def _is_order(fit: Fit, clause: Clause, *, question: bool) -> bool:
    if fit.value == "verdict" or fit.value in ("amount", "when", "why"):
        return not clause.has("pest")
    if fit.value == "start" and _is_of_others(fit, clause):
        return False
    if fit.value == "forecast":
        denied = clause.has("neg") and not clause.asks
        about = any(text in _WEATHER for text in clause.texts())
        return not denied and (question or (about and _says_little_else(fit, clause)))
    if fit.value == "season" and (clause.quantities() or not _says_little_else(fit, clause)):
        return question
    if fit.value in ("season", "list", "graph", "help"):
        return not clause.has("watered", "gave", "feel") or question
    return True


def _is_of_others(fit: Fit, clause: Clause) -> bool:
    """ "my grandson set me up with this": done by somebody, and asked of nobody."""
    texts = clause.texts()
    return "me" in texts[fit.start : fit.end] and any(text in _PEOPLE for text in texts[: fit.start])


_PEOPLE = words.named("people")


def _says_little_else(fit: Fit, clause: Clause) -> bool:
    """Whether all words beside those of an order are small: "lovely weather" and "twenty kids this year" order nothing."""
    texts = clause.texts()
    if " ".join(texts[:2]) in _THERE_IS or texts[0] in _THERE_IS:
        return False
    return all(text in _SMALL for text in (*texts[: fit.start], *texts[fit.end :]))


_THERE_IS = ("there is", "theres", "there are", "its", "it is", "hay")
_SMALL = words.named("asking_small")
_ASKS_AT_HEAD = words.named("asks_at_head")
_WEATHER = words.named("weather")


def _request(want: str, clause: Clause, state: State) -> list[Statement]:
    told = [item for item in clause.every("plot", "all") if item.text not in ("all", "both", "todo", "toda")]
    plots = tuple(str(item.value) if item.kind == "plot" else "*" for item in told)
    if want in _OF_THE_PERSON:
        named = tuple(str(item.value) for item in clause.every("plot"))
        return [Request(want=want, plot=plot) for plot in (named if want != "undo" else ()) or (None,)]
    name = None if plots else _unknown(want, clause, state)
    state.plots = plots or ((name,) if name else state.plots)
    return [Request(want=want, plot=plot) for plot in state.plots or (None,)]


def _unknown(want: str, clause: Clause, state: State) -> str | None:
    return (
        named_thing(clause, state.text) if want in ("verdict", "amount", "when", "graph", "season", "remind") else None
    )
