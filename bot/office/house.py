"""What the office's pages stand on, and who asks for one of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from flask import abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from bot.errors import NoSuchPerson, StoreError
from bot.line import Line
from bot.local_time import local
from bot.office.forecast import Forecast
from bot.office.seasons import Seasons
from bot.practice import Rooms
from bot.store import Colleague, Person, Store, StoredPlot
from bot.talk.visit import Office
from bot.workers import Health
from rules.tables import Tables


@dataclass(frozen=True, kw_only=True)
class House:
    """All that the pages need.

    Args:
        clock: the line's.
        secure: the pages are reached by https alone.
        health: how each part of the line is.
        files: by channel, what gives out a file that came with a message, by the channel's id for it.
    """

    line: Line
    office: Office
    clock: Callable[[], datetime]
    secure: bool
    health: Callable[[], Sequence[Health]]
    forecast: Forecast
    seasons: Seasons
    files: Mapping[str, Callable[[str], bytes | None]] = field(default_factory=dict)
    practice: Rooms = field(default_factory=Rooms)

    @property
    def tables(self) -> Tables:
        """The tables in force."""
        return self.line.tables.current()


@dataclass(frozen=True, kw_only=True)
class Caller:
    """One request of a colleague who is logged in. `now` is the office's local time, `csrf` what proves a form ours."""

    house: House
    colleague: Colleague
    csrf: str
    at: datetime

    @property
    def store(self) -> Store:
        return self.house.line.store

    @property
    def now(self) -> datetime:
        """The time at the office, without a zone."""
        return self.at.replace(tzinfo=None)

    def may(self, role: str) -> bool:
        """Whether this colleague may do what needs `role`."""
        return self.colleague.may(role)

    def did(self, deed: str, person: Person | int | None = None, detail: str = "") -> None:
        """Put into the trail what was done."""
        about = person.id if isinstance(person, Person) else person
        self.store.deeds.add(self.colleague.name, deed, self.at, person=about, detail=detail)

    def person(self, id: int) -> Person:
        """The person of this page; for a helper only somebody who was handed to one of the helper's desks."""
        try:
            person = self.store.people.by_id(id)
        except NoSuchPerson:
            abort(404)
        if not self.may("specialist") and not self.store.overview.on_desks(person, self.colleague.desks):
            abort(403)
        return person

    def plot(self, person: Person, id: int) -> StoredPlot:
        """The plot of this page, which must be the person's."""
        try:
            plot = self.store.plots.by_id(id)
        except StoreError:
            abort(404)
        if plot.person != person.id:
            abort(404)
        return plot

    def local(self, person: Person) -> datetime:
        """The time where the person is."""
        return local(self.at, person)

    def page(self, template: str, **values: object) -> str:
        """A page of the office."""
        return render_template(
            f"office/{template}.html",
            me=self.colleague,
            csrf=self.csrf,
            office=self.house.office,
            now=self.now,
            waiting=self.store.overview.waiting(self.desks),
            **values,
        )

    @property
    def desks(self) -> tuple[str, ...] | None:
        """The desks whose calls this colleague sees; None: all."""
        return None if self.may("specialist") else self.colleague.desks

    def go(self, page: str, said: str = "", **where: object) -> Response:
        """Go on to a page, which says what was done."""
        if said:
            flash(said)
        return redirect(url_for(f"office.{page}", **where), 303)  # type: ignore[arg-type]
