"""How values stand on the office's pages."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any

from flask import Blueprint
from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from bot.desks import DESKS
from bot.office.column_names import column_label
from bot.store import Person
from bot.store.overview import Row
from bot.word.amounts import Amounts
from rules.tables import Tables
from rules.terms import Advice, Verdict

CHANNELS = {
    "sms": "text message",
    "telegram": "Telegram",
    "web": "web chat",
    "console": "terminal",
    "phone": "telephone",
    "visit": "walk-in",
}


def masked(address: str) -> str:
    """An address as everybody may see it: its last four signs."""
    return f"…{address[-4:]}" if len(address) > 6 else address


def who(person: Person | Row) -> str:
    """A person in a list: nobody's name is known here, but the end of a number and how they write."""
    return f"{masked(person.address)}, {CHANNELS.get(person.channel, person.channel)}"


def waited(since: datetime, now: datetime) -> str:
    """`3 min`, `2 h 10 min`, `4 days`: how long somebody waits."""
    minutes = max(int((now - since) / timedelta(minutes=1)), 0)
    hours, days = minutes // 60, minutes // (24 * 60)
    if days >= 2:
        return f"{days} days"
    if hours >= 24:
        return f"1 day {hours - 24} h" if hours > 24 else "1 day"
    if hours:
        return f"{hours} h {minutes % 60} min" if minutes % 60 else f"{hours} h"
    return f"{minutes} min" if minutes else "under a minute"


def plot(name: str) -> str:
    """A plot by the name that its person gave it."""
    return name or "the plot"


def days_ago(on: date, today: date) -> str:
    """`today`, `yesterday`, `3 days ago`, and so on; ahead: `tomorrow`, `in 3 days`."""
    days = (today - on).days
    near = {0: "today", 1: "yesterday", -1: "tomorrow"}.get(days)
    return near or (f"{days} days ago" if days > 0 else f"in {-days} days")


def clock(at: datetime) -> str:
    """`Wed Nov 25, 14:05`, where the office is."""
    at = at.astimezone() if at.tzinfo else at
    return f"{at:%a %b} {at.day}, {at:%H:%M}"


def day(on: date) -> str:
    """`Wed Nov 25`."""
    return f"{on:%a %b} {on.day}"


def amount(value: Any, name: str, units: str | None = None) -> str:
    """A value in SI, told as the name's unit says, in `us` or `metric` units."""
    return "" if value is None else Amounts("en", units or "us", date.min).say(name, value)


def cell(value: Any) -> str:
    """A cell of a table as the office writes it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "; ".join(value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def verdict(advice: Advice) -> str:
    """`WATER, 0.7 in`, `WAIT till Thu Jul 16`: an advice in a table."""
    if advice.verdict is Verdict.WATER:
        much = amount(advice.depth_mm, "water_advised_mm")
        return f"WATER, {much}" if much else "WATER"
    return f"{advice.verdict} till {day(advice.date)}" if advice.date else str(advice.verdict)


def add_to(pages: Blueprint, tables: Tables, navigation: Sequence[tuple[str, str, str]]) -> None:
    """Let the templates use them."""

    def plant(id_: str | None) -> str:
        found = tables.plants.get(id_ or "")
        return found.name_en if found else (id_ or "")

    for each in (column_label, masked, who, plot, waited, days_ago, clock, day, amount, cell, verdict, plant):
        pages.add_app_template_filter(each, f"office_{each.__name__}")
    pages.add_app_template_global(_token, "token")
    known = {"nav": navigation, "channels": CHANNELS, "all_desks": DESKS}
    pages.record_once(lambda state: state.app.jinja_env.globals.update(known))


@pass_context
def _token(context: Context) -> Markup:
    """What proves that a form comes from a page of this sitting."""
    return Markup('<input type="hidden" name="csrf" value="{}">').format(context["csrf"])
