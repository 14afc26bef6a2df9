"""Answers kept ready: filled in from a plot where it is known, edited by the office, and no good after their day."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.store import Person, StoredPlot
from bot.word.say import Words

BLANKS = ("plot", "plant", "soil", "place", "look_again", "office", "phone")
_BLANK = re.compile(r"\{[^{}]*\}")
_LONGEST, _LONGEST_TITLE = 400, 80
_LASTS = timedelta(days=365)


def blanks(text: str) -> list[str]:
    """The blanks of a text that are still open."""
    return _BLANK.findall(text)


def filled_in(caller: Caller, who: Person, plots: Sequence[StoredPlot]) -> str:
    """The answer that was picked on the person's page, filled in from the plot that was picked; else nothing."""
    answer = caller.store.canned.by_id(request.args.get("answer", 0, type=int))
    if answer is None:
        return ""
    wanted = request.args.get("plot", 0, type=int)
    plot = next((each for each in plots if each.id == wanted), plots[0] if plots else None)
    text = answer.es if who.language == "es" else answer.en
    known = _known(caller, who, plot)
    return _BLANK.sub(lambda found: known.get(found.group()[1:-1]) or found.group(), text)


def picked_expired(caller: Caller) -> date | None:
    """The day after which the answer that was picked is no good, if that has passed."""
    answer = caller.store.canned.by_id(request.args.get("answer", 0, type=int))
    return answer.expires_on if answer and answer.expires_on < caller.now.date() else None


def _known(caller: Caller, who: Person, plot: StoredPlot | None) -> dict[str, str | None]:
    """What the blanks stand for, as far as it is known."""
    language = who.language or "en"
    words = Words(language, who.units or "us", who.channel, caller.local(who).date())
    known: dict[str, str | None] = {
        "office": caller.house.office.called(language),
        "phone": caller.house.office.phone,
        "place": (plot and plot.place) or who.place,
    }
    if plot is None:
        return known
    plant = caller.house.tables.plants.get(plot.facts.plant or "")
    plant_name = (plant.name_es if language == "es" else plant.name_en) if plant else None
    last = caller.store.advices.last(plot)
    return known | {
        "plot": plot.name,
        "plant": plant_name,
        "soil": words.name("soil", plot.facts.soil) if plot.facts.soil else None,
        "look_again": words.amounts.when(last.advice.date) if last and last.advice.date else None,
    }


def canned(caller: Caller, problem: str = "") -> str:
    """All answers kept ready, with a form for each."""
    expires = caller.now.date() + _LASTS
    filled = request.form if problem else {}
    answers = caller.store.canned.all()
    return caller.page("canned", answers=answers, blanks=BLANKS, expires=expires, problem=problem, filled=filled)


def keep_canned(caller: Caller) -> ResponseReturnValue:
    """A new answer, other words for one, or its end."""
    id = request.form.get("id", type=int)
    if request.form.get("do") == "drop" and id is not None:
        answer = caller.store.canned.by_id(id) or abort(404)
        caller.store.canned.drop(id)
        caller.did("dropped an answer kept ready", detail=answer.title)
        return caller.go("canned", f"Dropped: {answer.title}.")
    title, en, es = (request.form.get(name, "").strip() for name in ("title", "en", "es"))
    expires_on = _day(request.form.get("expires_on", ""))
    problem = _problem(title, en, es, expires_on)
    if problem or expires_on is None:
        return canned(caller, problem), 400
    kept = caller.store.canned.keep(
        id, title=title, en=en, es=es, by=caller.colleague.name, at=caller.now, expires_on=expires_on
    )
    if kept is None:
        abort(404)
    caller.did("changed an answer kept ready" if id else "made an answer to keep ready", detail=title)
    return caller.go("canned", f"Kept: {title}.")


def _problem(title: str, en: str, es: str, expires_on: date | None) -> str:
    if not title or not en or not es:
        return "An answer needs a title and its words in both languages."
    if max(len(en), len(es)) > _LONGEST or len(title) > _LONGEST_TITLE:
        return f"Titles may have {_LONGEST_TITLE} signs, answers {_LONGEST}."
    unknown = [blank for blank in blanks(en + es) if blank[1:-1] not in BLANKS]
    if unknown:
        return f"There is no blank {unknown[0]}. Those that fill themselves: {', '.join(f'{{{each}}}' for each in BLANKS)}."
    return "" if expires_on else "An answer needs the day after which somebody must look at it again."


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
