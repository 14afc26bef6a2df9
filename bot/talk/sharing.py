"""A plot that several people water: letting somebody in, leaving, and what each is told of the others.

Who made the plot asks for a code and hands it on; whoever texts it shares the plot. So both have agreed by their own hand, and
nobody is written to who did not write first. The others hear of a change by one text, by day, unless they said STOP.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from bot.local_time import local
from bot.quiet import by_day
from bot.store import Kept, Person, Store, StoredPlot, Told
from bot.talk.orders import Order
from bot.talk.reminding import drop
from bot.talk.told import told
from bot.talk.visit import Visit
from bot.understand.statements import Statement, Watering
from bot.word import keeping
from bot.word.say import Words

# Of what others told, this much is said beside an advice, and nothing older.
_MOST_TOLD, _NEWS_FOR = 2, timedelta(days=10)
_NUMBERED = ("sms", "phone", "console")


def called(words: Words, person: Person) -> str:
    """Another person of the plot, as this one may know them: by the end of their number."""
    if person.channel in _NUMBERED:
        return words.say("share.number", ending=person.address[-4:])
    return words.say("share.other")


# Letting in and leaving


def carry_out(visit: Visit, given: Order, plot: StoredPlot | None) -> None:
    """SHARE, JOIN and UNSHARE."""
    if given.do == "join":
        _join(visit, given.name or "")
    elif plot is None or not plot.name:
        names = visit.words.amounts.listed([each.name for each in visit.plots() if each.name]) or "-"
        visit.say(visit.words.say("share.which", plots=names))
    elif given.do == "unshare":
        leave(visit, plot)
    elif plot.person != visit.person.id:
        visit.say(visit.words.say("share.not_yours", plot=plot.name))
    else:
        code = visit.store.shares.invite(plot, visit.line_now)
        visit.say(visit.words.say("share.code", plot=plot.name, code=code))


def _join(visit: Visit, code: str) -> None:
    shares, words = visit.store.shares, visit.words
    plot = shares.meant(code, visit.line_now)
    if plot is None:
        visit.say(words.say("share.no_code"))
    elif any(each.id == plot.id for each in visit.plots()):
        visit.say(words.say("share.already", plot=plot.name))
    else:
        others = shares.others(plot, visit.person)
        joined = shares.join(plot, visit.person, visit.line_now)
        visit.say(words.say("share.joined", plot=joined.name, who=called(words, others[0])))
        for other in others:
            _tell(visit.store, other, "share.new", plot, visit.person, visit.line_now)


def leave(visit: Visit, plot: StoredPlot) -> None:
    """End the sharing of a plot for this person; for everybody, when this one made it."""
    others = visit.store.shares.others(plot, visit.person)
    if plot.person == visit.person.id:
        end(visit.store, plot, visit.person, visit.line_now)
        visit.say(visit.words.say("share.ended" if others else "share.alone", plot=plot.name))
        return
    drop(visit, plot.id)
    visit.store.shares.leave(plot, visit.person)
    visit.say(visit.words.say("share.left", plot=plot.name))
    _all_told(visit.store, others, "share.gone", plot, visit.person, visit.line_now)


def end(store: Store, plot: StoredPlot, maker: Person, now: datetime) -> None:
    """Nobody shares the plot with its maker any more, and the others are told.

    Args:
        now: by the line's clock.
    """
    others = store.shares.others(plot, maker)
    store.shares.end(plot)
    _all_told(store, others, "share.gone_all", plot, maker, now)


def farewell(store: Store, person: Person, now: datetime) -> None:
    """Tell the others of each shared plot that this person, who is about to be erased, waters it no more.

    Args:
        now: by the line's clock.
    """
    for plot in store.plots.of(person):
        _all_told(store, store.shares.others(plot, person), "share.gone", plot, person, now)


def kept_for_others(visit: Visit) -> str:
    """What FORGET leaves: the record of plots that others water too; nothing where there are none."""
    names = [plot.name for plot in visit.plots() if visit.store.shares.others(plot, visit.person)]
    return visit.words.say("share.forget", plots=visit.words.amounts.listed(names)) if names else ""


def _all_told(store: Store, others: Sequence[Person], key: str, plot: StoredPlot, about: Person, now: datetime) -> None:
    for other in others:
        _tell(store, other, key, plot, about, now)


def _tell(store: Store, other: Person, key: str, plot: StoredPlot, about: Person, now: datetime) -> None:
    """One text to somebody who shares a plot, at the next hour of day where they are; to nobody who said STOP."""
    if other.stopped:
        return
    there = local(now, other)
    words = Words(other.language or "en", other.units or "us", other.channel, there.date())
    theirs = next((each for each in store.plots.of(other) if each.id == plot.id), plot)
    who: dict[str, Any] = {} if key == "share.gone_all" else {"who": called(words, about)}
    text = words.say(key, plot=theirs.name, **who)
    store.messages.keep(other, text, there, author="line", language=words.language)
    store.outbox.put(
        other.channel, other.address, text, at=now, due_at=by_day(now, other), kind="notice", person=other,
        language=words.language,
    )  # fmt: skip


# What the others told


def news(visit: Visit, plot: StoredPlot) -> list[str]:
    """What others told of a plot since this person was last advised on it: who, what and when."""
    shares = visit.store.shares
    if not shares.others(plot, visit.person):
        return []
    since = shares.last_answered(plot, visit.person, visit.message.id)
    fresh = [
        each
        for each in shares.told_by_others(plot, visit.person, since)
        if each.observation.on and each.observation.on >= visit.today - _NEWS_FOR
    ]
    latest = fresh[-_MOST_TOLD:]
    tellers = dict.fromkeys(each.by.id for each in latest)
    return [_said(visit, [each for each in latest if each.by.id == teller], "share.told") for teller in tellers]


def others_asked_about(visit: Visit, statements: Sequence[Statement]) -> list[Statement]:
    """The statements without a watering of a day on which another told of one too, after asking whether both happened."""
    for each in statements:
        if isinstance(each, Watering) and each.on and (doubled := _told_too(visit, each)):
            visit.ask("repeat", held=[each])
            visit.say(_said(visit, doubled, "share.twice"))
            return [other for other in statements if other is not each]
    return list(statements)


def _told_too(visit: Visit, watering: Watering) -> list[Told]:
    plots = visit.plots()
    meant = [plot for plot in plots if watering.plot == plot.name or (watering.plot is None and len(plots) == 1)]
    return [
        each
        for plot in meant
        if visit.store.shares.others(plot, visit.person)
        for each in visit.store.shares.told_by_others(plot, visit.person, after=0)
        if each.observation.kind == "watering" and each.observation.on == watering.on
    ]


def _said(visit: Visit, told_by: Sequence[Told], key: str) -> str:
    """One sentence of who told what."""
    names = {plot.id: plot.name for plot in visit.plots()}
    items = tuple(each.observation for each in told_by)
    statements = told(Kept(message=items[0].message, items=items), names, visit.plant_names)
    # Whose plot it is stands in the advice already.
    bare = [replace(each, plot=None) if getattr(each, "plot", None) else each for each in statements]  # type: ignore[call-arg]
    return visit.words.say(key, who=called(visit.words, told_by[0].by), items=keeping.items(visit.words, bare))
