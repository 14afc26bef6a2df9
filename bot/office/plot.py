"""A plot's page: its facts, which a specialist may change, how they came to be, every advice, and the working of each."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.office import fact_fields
from bot.office.drawn import drawn
from bot.office.fact_fields import FIELDS, Fields
from bot.office.house import Caller
from bot.store import Person, StoredAdvice, StoredPlot
from bot.talk.sharing import end
from bot.word.keeping import observed
from bot.word.say import Words

_LONGEST_NAME = 60
# Of what was told so many show at once: a probe that reads by itself tells something every day.
_FEW = 30


def plot(caller: Caller, id: int, plot: int, problem: str = "", code: str = "") -> str:
    """The page; with a code that lets somebody share the plot, for once."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    others = caller.store.shares.others(mine, who)
    messages = {each.id: each for person in (who, *others) for each in caller.store.messages.of(person)}
    tellers = {each.id: each for each in others}
    advices = caller.store.advices.of(mine, at_most=200)
    fields = fields_of(caller, who, mine)
    return caller.page(
        "plot",
        drawn=drawn(caller, who, advices[0]) if advices else None,
        person=who,
        plot=mine,
        fields=FIELDS,
        field=fields,
        facts=[(each, messages.get(each.message or 0)) for each in reversed(caller.store.facts.history(mine))],
        observations=[
            (
                each,
                observed(fields.words, each.kind, each.slots),
                message,
                tellers.get(message.person) if message else None,
            )
            for each in reversed(caller.store.log.of_plot(mine))
            for message in (messages.get(each.message),)
        ],
        few=_FEW,
        filled=request.form if problem else {},
        others=others,
        exceptions=caller.store.exceptions.of(mine),
        code=code,
        probes=caller.store.probes.in_plot(mine.id),
        advices=advices,
        problem=problem,
        local_now=caller.local(who),
    )


def change_plot(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """Set the facts that the form changes, each with who did it."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    fields = fields_of(caller, who, mine)
    try:
        changed = fact_fields.changes(
            request.form, request.form.getlist("water_days"), mine.facts, fields.units, fields.allowed()
        )
        name = _name(caller, who, mine)
    except fact_fields.Problem as problem:
        return _again(caller, id, plot, problem.says)
    if "rate_mm_h" in changed:
        changed["rate_on"] = caller.local(who).date()
    if "stage" in changed:
        changed["stage_on"] = caller.local(who).date()
    if "stress" in changed:
        changed["stress_on"] = caller.local(who).date()
    with caller.store.transaction():
        for about, value in (changed | name).items():
            caller.store.facts.set(mine, about, value, at=caller.local(who), by=caller.colleague.name)
        if changed or name:
            caller.did("changed facts", who, detail=", ".join(changed | name))
    return caller.go("plot", "Kept." if changed or name else "Nothing was changed.", id=id, plot=plot)


def share_plot(caller: Caller, id: int, plot: int) -> ResponseReturnValue:
    """A code to hand to somebody who waters the plot too, as its person told the office; or the end of the sharing."""
    who = caller.person(id)
    mine = caller.plot(who, plot)
    if request.form.get("do") == "end":
        end(caller.store, mine, who, caller.house.line.time())
        caller.did("ended the sharing of a plot", who)
        return caller.go("plot", "Nobody shares this plot any more; each was told.", id=id, plot=plot)
    if not request.form.get("agreed"):
        return _again(caller, id, plot, "Ask the person first: nobody else is let in without their word.")
    caller.did("made a code to share a plot, as its person asked", who)
    return _with_code(caller, id, plot, caller.store.shares.invite(mine, caller.house.line.time()))


def _with_code(caller: Caller, id: int, of: int, code: str) -> str:
    return plot(caller, id, of, code=code)


def fields_of(caller: Caller, who: Person, mine: StoredPlot) -> Fields:
    """The facts of a plot for a page, in its person's units."""
    words = Words("en", who.units or "us", "web", caller.local(who).date())
    return Fields(mine.facts, caller.house.tables, words)


def _again(caller: Caller, id: int, of: int, says: str) -> ResponseReturnValue:
    return plot(caller, id, of, says), 400


def advice(caller: Caller, id: int, advice: int) -> ResponseReturnValue:
    """One advice with its whole working."""
    who = caller.person(id)
    given = caller.store.advices.by_id(advice)
    if given is None or given.person != who.id:
        abort(404)
    inputs = caller.store.advices.inputs(given)
    return caller.page(
        "advice",
        drawn=drawn(caller, who, given),
        person=who,
        plot=caller.plot(who, given.plot),
        given=given,
        figures=_figures(given),
        facts={name: value for name, value in asdict(inputs.plot).items() if value not in (None, "", ())},
        observations=[(type(each).__name__, _slots(each)) for each in inputs.observations],
        weather=inputs.weather,
        units=who.units or "us",
    )


def _name(caller: Caller, who: Person, plot: StoredPlot) -> dict[str, Any]:
    name = " ".join(request.form.get("name", plot.name).split())[:_LONGEST_NAME]
    if not name or name == plot.name:
        return {}
    if any(each.name.casefold() == name.casefold() for each in caller.store.plots.of(who) if each.id != plot.id):
        raise fact_fields.Problem(f"Another plot is called {name}.")
    return {"name": name}


def _figures(given: StoredAdvice) -> dict[str, Any]:
    left_out = ("reasons", "rows", "assumed", "cautions", "verdict", "plot", "doubtful")
    told = {name: value for name, value in asdict(given.advice).items() if name not in left_out}
    return {name: value for name, value in told.items() if value not in (None, False, 0.0)}


def _slots(observation: Any) -> dict[str, Any]:
    return {name: value for name, value in asdict(observation).items() if value is not None and name != "in_force"}
