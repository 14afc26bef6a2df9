"""The two ends of a season: what to do when the water is shut off for the winter, and when it is opened in spring."""

from __future__ import annotations

import re
from datetime import date

from bot import understand
from bot.store import StoredPlot
from bot.talk.own_answers import HANDLED
from bot.talk.setup import plain
from bot.talk.speech import speak
from bot.talk.visit import Visit
from bot.understand.statements import Request, Statement
from rules.terms import Advice

_MY = r"(?:the |my |our |el |mi |los |las )?(?:whole )?"
_SYSTEM = (
    r"(?:(?:irrigation|sprinkler|drip|watering) )?"
    r"(?:system|sprinklers|irrigation|drip|lines|pipes|backflow|sistema|riego|tuberias?)"
)
_YEAR = r"(?:the |la |el )?(?:winter|year|season|spring|invierno|ano|temporada|primavera)"
_TILL_SPRING = rf"(?:for|until|till|para|por|hasta) {_YEAR}"
_LAST = r"(?:(?:last|final) (?:watering|irrigation|soak)|ultimo riego)"
_CLOSE = r"(?:shut|close|turn|closing|shutting|cerrar|cierro|cierre|apago)"
_CLOSED = r"(?:closed|winteri[sz]ed|drained|blew out|ya cerre|ya drene|ya vacie)"
_OPEN = r"(?:open|start|starting|opening|turn on|abrir|abro|arrancar)"
# The first that is found counts.
_SAID = (
    ("blow_out", rf"blow(?:ing)? {_MY}{_SYSTEM} out"),
    ("blow_out", rf"blow(?:ing)? ?out {_MY}{_SYSTEM}"),
    (
        "blow_out",
        r"(?:how|pressure|psi).* blow ?outs?|blow ?outs? (?:pressure|psi)|air compressor|compresor(?: de aire)?",
    ),
    ("closed", rf"{_CLOSED} (?:up |down )?{_MY}(?:{_SYSTEM} )?{_TILL_SPRING}"),
    ("closed", rf"(?:winteri[sz]ed|drained|blew out|vacie|drene) {_MY}{_SYSTEM}|closed {_MY}(?:system|irrigation)"),
    ("closed", r"(?:system|irrigation) is (?:closed|drained|off for)|ya cerre el sistema"),
    ("close", r"winteri[sz](?:e|ing|ation)|^cerrar$"),
    ("close", rf"{_CLOSE}(?: it| them| {_MY}{_SYSTEM})?(?: off| down| up)? {_TILL_SPRING}"),
    ("close", rf"(?:close|closing|cerrar) {_MY}(?:system|season|sistema)|(?:drain|vaciar|drenar) {_MY}{_SYSTEM}"),
    ("close", rf"{_LAST} (?:of|for|before|del|de|antes del) {_YEAR}|^(?:the |el )?{_LAST}$"),
    ("close", rf"(?:time|hora|toca|when is|cuando es)(?: for| de| del| el| the| my| a)* {_LAST}"),
    ("close", rf"stop (?:watering|irrigating) {_TILL_SPRING}"),
    ("open", rf"{_OPEN}(?: up)? {_MY}{_SYSTEM}(?: up)? (?:for|in|this|en|para|esta|este) {_YEAR}"),
    ("open", r"(?:un|de) ?winteri[sz]\w*|spring (?:start ?up|opening)|first watering of the (?:year|season)"),
)
_PATTERNS = tuple((about, re.compile(rf"\b(?:{words})\b")) for about, words in _SAID)
# When systems are closed where frost comes (common practice): by then everybody is told once, who sleeps earlier, earlier.
_LAST_MONTH, _AUTUMN = 11, (9, 10, 11, 12)
_SLEEPS = ("asleep", "refill_before_winter")


def told_of_year(visit: Visit, text: str) -> list[Statement] | None:
    """Answer what is asked or told of closing or opening; the statements of the rest, with a wish for a verdict where one helps."""
    about = said_of_year(text)
    if about is None:
        return None
    rest = _without(text, about)
    speak(visit, understand.read(text, visit.context(None)).language, text)
    visit.say(visit.words.say(f"year.{about}", phone=visit.office.phone))
    read = list(understand.read(rest, visit.context(None)).statements) if rest else []
    told = [each for each in read if each.kind not in ("request", "unclear")]
    if about != "close" or not visit.plots():
        return told or HANDLED
    return [*told, Request(want="verdict")]


def said_of_year(text: str) -> str | None:
    """`close`, `closed`, `blow_out` or `open`, when a text speaks of it."""
    said = plain(text)
    return next((about for about, pattern in _PATTERNS if pattern.search(said)), None)


def _without(text: str, about: str) -> str:
    """The clauses of the text that do not speak of it."""
    clauses = re.split(r"(?<=[.;!?])\s+|\n", text)
    return " ".join(each for each in clauses if said_of_year(each) != about)


def northern_month(plot: StoredPlot, on: date) -> int:
    """The month of the same season north of the equator: half a year later for a plot south of it."""
    southern = plot.facts.latitude is not None and plot.facts.latitude < 0
    return (on.month + 5) % 12 + 1 if southern else on.month


def closing_due(visit: Visit, plot: StoredPlot, advice: Advice) -> bool:
    """Whether to say how the system is closed; it is then not said again that year."""
    facts, year = plot.facts, visit.today.year
    month = northern_month(plot, visit.today)
    sleeps = bool(advice.reasons) and advice.reasons[-1].rule in _SLEEPS
    due = month == _LAST_MONTH or (month in _AUTUMN and sleeps)
    if not due or facts.container_litres is not None or visit.person.dialogue.get("closing") == year:
        return False
    visit.remember(closing=year)
    return True
