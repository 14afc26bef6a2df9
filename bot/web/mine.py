"""A person's own page: all that is held on them, in their language and units, behind a link that they were sent."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, make_response, render_template, url_for
from flask.typing import ResponseReturnValue

from bot.errors import NoSuchPerson
from bot.line import Line
from bot.links import Links
from bot.store import Kept, Person, StoredObservation, StoredPlot
from bot.talk.told import told
from bot.talk.visit import Office
from bot.word import keeping
from bot.word.say import Words
from rules.terms import Plot

# As the text that sends the link calls it.
_PAGE = "mine"
# In their order on the page; what only goes with another fact stays out.
_FACTS = (
    "plant", "soil", "root_depth_cm", "planted_on", "stage", "method", "rate_mm_h", "emitters_each", "flow_l_h", "count",
    "area_m2", "container_litres", "trunk_cm", "probe", "probe_depth_cm", "water_days", "most_litres_a_day",
)  # fmt: skip


class Mine:
    """What the page shows. It changes nothing."""

    def __init__(self, line: Line, links: Links, office: Office) -> None:
        self._line, self._store, self._links, self._office = line, line.store, links, office

    def page(self, signed: str) -> ResponseReturnValue:
        """The page; of a link that has ended, how to get another."""
        person = self._person(signed)
        if person is None:
            return self._ended()
        words = Words(person.language or "en", person.units or "us", "web", person.created.date())
        plots = self._store.plots.of(person)
        shown = render_template(
            "mine/page.html",
            words=words,
            office=self._office,
            plots=[(plot.name or words.plot(None), self._facts(plot, words)) for plot in plots],
            observations=self._observations(person, plots, words),
            advices=[(given.on, given.text) for plot in plots for given in self._store.advices.of(plot, at_most=1000)],
            messages=self._store.messages.of(person),
            file=url_for("mine.file", signed=signed),
        )
        return _private(make_response(shown))

    def file(self, signed: str) -> ResponseReturnValue:
        """The same as a file, whole: every row as it is stored."""
        person = self._person(signed)
        if person is None:
            return self._ended()
        held = json.dumps(self._store.holdings.export(person), ensure_ascii=False, indent=1)
        headers = {"Content-Disposition": "attachment; filename=dropline.json"}
        return _private(Response(held, mimetype="application/json", headers=headers))

    def _person(self, signed: str) -> Person | None:
        id = self._links.read(_PAGE, signed)
        try:
            return self._store.people.by_id(id) if isinstance(id, int) else None
        except NoSuchPerson:
            return None

    def _ended(self) -> ResponseReturnValue:
        both = [Words(language, channel="web") for language in ("en", "es")]
        return render_template("mine/ended.html", both=both, office=self._office), 404

    def _facts(self, plot: StoredPlot, words: Words) -> list[tuple[str, str]]:
        known = [(about, self._said(plot.facts, about, words)) for about in _FACTS]
        return [(keeping.thing(words, about), said) for about, said in known if said]

    def _said(self, facts: Plot, about: str, words: Words) -> str:
        value: Any = getattr(facts, about)
        if value is None or value == ():
            return ""
        plants = self._line.tables.current().plants
        if about == "plant" and value in plants:
            plant = plants[value]
            return plant.name_es if words.language == "es" else plant.name_en
        return keeping.fact_value(words, about, value)

    def _observations(self, person: Person, plots: list[StoredPlot], words: Words) -> list[tuple[str, bool]]:
        names = {plot.id: plot.name for plot in plots}
        history = self._store.log.history(person)
        return [(_observed(each, names, words), each.in_force) for each in reversed(history)]


def own_pages(line: Line, links: Links, office: Office) -> Blueprint:
    """The page and its file, below `/mine`."""
    pages = Blueprint("mine", __name__, url_prefix=f"/{_PAGE}", template_folder="templates")
    mine = Mine(line, links, office)
    pages.add_url_rule("/<signed>", "page", mine.page)
    pages.add_url_rule("/<signed>/file", "file", mine.file)
    return pages


def _observed(observation: StoredObservation, names: dict[int, str], words: Words) -> str:
    statements = told(Kept(message=observation.message, items=(observation,)), names, {})
    return keeping.items(words, statements) or (observation.words or "")


def _private(response: Response) -> Response:
    """Neither kept by anybody on the way nor found by a search."""
    response.headers["Cache-Control"] = "no-store"
    response.headers["X-Robots-Tag"] = "noindex"
    response.headers["Referrer-Policy"] = "no-referrer"
    return response
