"""The picture behind an advice, for the office: its drawing, its words, and its data as a table."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Response, abort, request
from flask.typing import ResponseReturnValue

from bot.advising import season_of
from bot.graph import words as graph_words
from bot.graph.draw import svg
from bot.graph.look import OFFICE, PHONE
from bot.graph.season import Graph
from bot.office.house import Caller
from bot.store import Person, StoredAdvice
from bot.word.say import Words


@dataclass(frozen=True)
class Drawn:
    """What stands around the drawing itself. `of` is the advice."""

    of: StoredAdvice
    alt: str
    story: str
    head: tuple[str, ...]
    rows: list[tuple[str, ...]]


def drawn(caller: Caller, who: Person, given: StoredAdvice) -> Drawn:
    """The words and the data of the picture that led to this advice."""
    shown, words = _shown(caller, who, given)
    return Drawn(
        given,
        graph_words.alt(shown, words),
        f"{graph_words.story(shown, words)} {graph_words.ruler(shown, words)}".strip(),
        graph_words.head(words),
        graph_words.rows(shown, words),
    )


def graph(caller: Caller, id: int, advice: int) -> ResponseReturnValue:
    """The drawing, for a page or a phone. An advice never changes, so a browser may keep it for its sitting."""
    who = caller.person(id)
    given = caller.store.advices.by_id(advice)
    if given is None or given.person != who.id:
        abort(404)
    shown, words = _shown(caller, who, given)
    look = PHONE if request.args.get("look") == "phone" else OFFICE
    return Response(svg(shown, words, look), mimetype="image/svg+xml")


def _shown(caller: Caller, who: Person, given: StoredAdvice) -> tuple[Graph, Words]:
    inputs = caller.store.advices.inputs(given)
    shown = season_of(given.advice.plot, given.advice, inputs, caller.house.tables)
    return shown, Words("en", who.units or "us", "picture", given.on)
