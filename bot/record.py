"""What a message says, put into the store: observations once and for good, facts in force from now on.

Nothing is guessed here. What does not say which plot it means is held back until the person has said so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

from bot import places
from bot.store import Kept, StoredFact, StoredPlot
from bot.talk.believed import impossible
from bot.talk.heard import Heard
from bot.talk.meant import could_mean
from bot.talk.rod import learn, taught
from bot.talk.setup import plain
from bot.talk.slips import as_before, day_named, moved, names_a_day, taken_back
from bot.talk.sources import cans_told, measured, runoff_minutes, soil_source
from bot.talk.told import told
from bot.talk.visit import Visit
from bot.understand.statements import Fact, Rain, Reading, Request, Sign, Statement, Unclear, Watering
from rules import plants
from rules.delivery import believable_rate
from rules.stages import stage_named
from rules.terms import Plot

ALL = "*"
_PERSONAL = ("language", "units")
_DATES = ("planted_on",)
# Above this a figure is no water content: clays are full at 0.40 (FAO-56, Table 19).
_MOST_PERCENT = 40.0
_LONGEST_NAME = 40
_PLOT_COLUMNS = frozenset(each.name for each in fields(Plot))


def surely_tension(readings: Sequence[Reading]) -> bool:
    """Whether numbers without a unit can only be tensions: told at a depth, and one is more than soil holds in percent.

    What one number of a message shows, its fellows show too.
    """
    at_depth = all(each.depth_cm is not None for each in readings)
    return at_depth and any(float(each.value) > _MOST_PERCENT for each in readings)


@dataclass(frozen=True)
class Recorder:
    """Stores the statements of one message of one person."""

    visit: Visit

    def keep(self, statements: Iterable[Statement]) -> Heard:
        """Store what can be stored.

        Raises: StoreError, when the store can't take it; nothing of the message is kept then.
        """
        heard, statements = Heard(first=not self.visit.plots()), list(statements)
        if self.visit.replaces:
            self._take_back(self.visit.store.corrections.kept_of(self.visit.replaces), heard)
        for number, statement in enumerate(statements):
            match statement:
                case Request(want="undo"):
                    after = (each for each in statements[number + 1 :] if not isinstance(each, Request | Unclear))
                    self._undo(heard, next(after, None))
                case Request():
                    heard.wants.append((statement.want, self._wanted(statement.plot, heard)))
                case Unclear():
                    heard.unclear.append(statement.text)
                case Fact():
                    self._fact(statement, heard)
                case Reading() | Watering() | Rain() | Sign():
                    right = as_before(
                        statement,
                        heard.undone,
                        us=self.visit.person.units != "metric",
                        dated=not heard.undone or names_a_day(self.visit.message.text, self.visit.context(None)),
                        edited=bool(self.visit.replaces),
                    )
                    if isinstance(right, Reading) and right.quantity == "bare":
                        self._plot_of_bare(right.plot, heard)
                        heard.bare.append(right)
                    else:
                        self._observation(right, heard)
        if heard.undone and not heard.kept and not self.visit.replaces:
            self._moved(heard)
        if surely_tension(heard.bare):
            for bare in heard.bare:
                self._observation(replace(bare, quantity="tension"), heard)
            heard.bare = []
        return heard

    def _undo(self, heard: Heard, corrected: Statement | None) -> None:
        """Take back the last thing told, or of it what is corrected in the same message."""
        corrections, person = self.visit.store.corrections, self.visit.person
        last = corrections.last_kept(person)
        history = self.visit.store.log.history(person)
        undone = last and taken_back(corrected, last, history, self.visit.message.text)
        heard.undone, names = [], self._names()
        self._take_back(undone, heard)
        left = corrections.last_kept(person)
        heard.left = told(_counting(left), names, self.visit.plant_names) if left else []

    def _take_back(self, undone: Kept | None, heard: Heard) -> None:
        if undone is None:
            return
        heard.undone = told(undone, self._names(), self.visit.plant_names)
        self.visit.store.corrections.retract(undone.items, self.visit.message)
        for item in undone.items:
            if item.plot in self._names():
                heard.touch(self.visit.store.plots.by_id(item.plot))

    def _moved(self, heard: Heard) -> None:
        """What was taken back for another plot, as in "no, that was the apples", told anew of that one; so for another day."""
        said = f" {plain(self.visit.message.text)} "
        named = [name for name in self._names().values() if name and f" {plain(name)} " in said]
        named = named or [word for word in said.split()[-1:] if self._plant(word) is not None]
        on = day_named(said.strip(), self.visit.context(None))
        for each in moved(heard.undone or (), named[0] if len(named) == 1 else None, on):
            self._observation(each, heard)

    def _names(self) -> dict[int, str]:
        return {plot.id: plot.name for plot in self.visit.plots()}

    def _meant(self, name: str | None) -> list[StoredPlot] | None:
        """The plots that a statement is about; None when the person must say."""
        known = self.visit.plots()
        if name == ALL:
            return known
        if name is None:
            return known if len(known) == 1 else None
        named = [plot for plot in known if plot.name.casefold() == name.casefold()]
        return named or None

    def _only_meant(self, name: str | None) -> list[StoredPlot] | None:
        """The plot that a name which no plot has can only mean."""
        return self._like(name) if len(self._like(name)) == 1 else None

    def _like(self, name: str | None) -> list[StoredPlot]:
        return could_mean(name, self.visit.plots(), self.visit.tables) if name is not None else []

    def _wanted(self, name: str | None, heard: Heard) -> list[int]:
        """The plots that a request is about; a plot is made of a plant that is asked about and has none."""
        meant = self._meant(name) or self._only_meant(name)
        if meant is None and name is not None and self._plant(name) is not None:
            meant = [self._new_plot(name, heard)]
            heard.kept.append(Fact(about="new_plot", value=name))
        return [plot.id for plot in meant or ()]

    def _found(self, statement: Reading | Watering | Sign | Fact, heard: Heard) -> list[StoredPlot]:
        """The plots of a statement, a first or plainly new one made; none when it was held back."""
        meant = self._meant(statement.plot) or self._only_meant(statement.plot)
        if meant is not None:
            return meant
        known = self.visit.plots()
        name = statement.plot
        unnamed = [plot.name for plot in known] == [""]
        new = not self._like(name)
        if not known or (new and name is not None and (heard.first or unnamed or self._plant(name) is not None)):
            return [self._new_plot(name or "", heard)]
        heard.held.append(statement)
        return []

    def _new_plot(self, name: str, heard: Heard) -> StoredPlot:
        name = name.lower() if name.isupper() else name
        unnamed = next((plot for plot in self.visit.plots() if plot.name == ""), None)
        if unnamed is not None and name and len(self.visit.plots()) == 1:
            self.visit.store.plots.rename(unnamed, name, at=self.visit.written, message=self.visit.message)
            plot = unnamed
        else:
            plot = self.visit.store.plots.new(
                self.visit.person, name, at=self.visit.written, message=self.visit.message
            )
        plant = self._plant(name) if name else None
        if plant is not None:
            self.visit.store.facts.set(plot, "plant", plant, at=self.visit.written, message=self.visit.message)
        heard.touch(plot)
        return self.visit.store.plots.by_id(plot.id)

    def _plot_of_bare(self, name: str | None, heard: Heard) -> None:
        """A first plot is made of the plant that a bare number is told of: what the number is can be asked later."""
        if name is not None and not self.visit.plots() and self._plant(name) is not None:
            self._new_plot(name, heard)

    def _plant(self, words: str) -> str | None:
        """Plant id of a name that is surely one."""
        match = plants.find(words, self.visit.language, self.visit.tables)
        return match.plant if match.how != "unknown" else None

    # Observations

    def _observation(self, statement: Reading | Watering | Rain | Sign, heard: Heard) -> None:
        if statement.on is None:
            heard.undated.append(statement)
            return
        if isinstance(statement, Rain):
            self._keep(statement, None, heard)
            for plot in self.visit.plots():
                heard.touch(plot)
                if plot.person != self.visit.person.id:
                    self._store(statement, plot, self._impossible(statement, plot))
            return
        for plot in self._found(statement, heard):
            self._keep(replace(statement, plot=plot.name or None), plot, heard)
            heard.touch(plot)
            if (
                isinstance(statement, Reading)
                and plot.facts.probe is None
                and statement.quantity in ("tension", "resistance", "percent", "dial")
            ):
                self.visit.store.facts.set(plot, "probe", statement.quantity, at=self.visit.written)
            if isinstance(statement, Sign):
                self._runs_off(plot, statement, heard)
            if isinstance(statement, Reading) and statement.quantity == "rod" and not heard.impossible:
                heard.learned = learn(self.visit, plot, statement) or heard.learned
                heard.kept += taught(heard.learned, plot)

    def _runs_off(self, plot: StoredPlot, sign: Sign, heard: Heard) -> None:
        """Learn how long the ground takes the water."""
        minutes = runoff_minutes(self.visit.message.text)
        if minutes is not None and sign.sign in ("runoff", "puddles"):
            self._write(plot, "runoff_minutes", minutes)
            heard.kept.append(Fact(about="runoff_minutes", value=minutes, plot=plot.name or None))

    def _keep(self, statement: Reading | Watering | Rain | Sign, plot: StoredPlot | None, heard: Heard) -> None:
        news = plot is None or heard.undone or not self._just_told(statement, plot)
        if isinstance(statement, Reading) and not news:
            heard.known.append(statement)
            return
        aside = self._impossible(statement, plot)
        self._store(statement, plot, aside)
        (heard.impossible if aside else heard.kept).append(statement)

    def _store(self, statement: Reading | Watering | Rain | Sign, plot: StoredPlot | None, aside: str | None) -> None:
        slots, on = _slots(statement), statement.on
        self.visit.store.log.keep(
            self.visit.message,
            statement.kind,
            slots,
            plot=plot,
            on=on,
            at=self.visit.written if on == self.visit.written.date() else None,
            words=self.visit.message.text[:200],
            set_aside=aside,
        )

    def _just_told(self, statement: Reading | Watering | Rain | Sign, plot: StoredPlot) -> bool:
        """Whether the last thing told of the plot is this very reading, of the same day: a number sent again is no news."""
        before = self.visit.store.log.last(plot)
        return before is not None and (before.on, dict(before.slots)) == (statement.on, _slots(statement))

    def _impossible(self, statement: Statement, plot: StoredPlot | None) -> str | None:
        """Why it can't be true, or None."""
        return impossible(self.visit, statement, plot.facts if plot else Plot())

    # Facts

    def _fact(self, fact: Fact, heard: Heard) -> None:
        if fact.value == "skipped":
            heard.skipped = True
            if fact.about == "plant" and not self.visit.plots():
                self._new_plot("", heard)
        elif fact.about in _PERSONAL:
            self.visit.store.facts.set(
                self.visit.person, fact.about, fact.value, at=self.visit.written, message=self.visit.message
            )
            if fact.about == "language":
                self.visit.language = str(fact.value)
            heard.kept.append(fact)
        elif fact.about == "place":
            self._place(fact, heard)
        elif fact.about == "new_plot":
            if self._meant(str(fact.value)) is None or not self.visit.plots():
                self._new_plot(str(fact.value), heard)
                heard.kept.append(fact)
        elif fact.value in ("unknown", "by_feel"):
            heard.skipped = True
            heard.feel_soil = heard.feel_soil or fact.about == "soil"
            if fact.about == "plant" and not self.visit.plots():
                self._new_plot("", heard)
        elif fact.about == "plant" and fact.plot is None and not self.visit.plots():
            self._new_plot("", heard)
            self._set_plant(self.visit.plots()[0], fact, heard)
        else:
            for plot in self._fact_plots(fact, heard):
                self._set(plot, fact, heard)

    def _fact_plots(self, fact: Fact, heard: Heard) -> list[StoredPlot]:
        """The plots of a fact; soil told without a plot is that of every plot whose soil is not known, a town's days are of all."""
        if fact.plot is None and fact.about == "water_days":
            return self.visit.plots() or self._found(fact, heard)
        if fact.plot is None and fact.about == "soil" and len(self.visit.plots()) > 1:
            return [plot for plot in self.visit.plots() if plot.facts.soil is None] or self.visit.plots()
        return self._found(fact, heard)

    def _set(self, plot: StoredPlot, fact: Fact, heard: Heard) -> None:
        heard.touch(plot)
        if fact.about == "plant":
            self._set_plant(plot, fact, heard)
            return
        if fact.about not in _PLOT_COLUMNS:
            return
        value = fact.value
        if fact.about == "rate_mm_h" and not believable_rate(float(value), plot.facts, self.visit.tables):
            heard.impossible.append(fact)
            return
        if fact.about in _DATES and isinstance(value, str):
            value = date.fromisoformat(value)
        if fact.about == "water_days":
            value = tuple(value)
        if fact.about == "stage":
            value = stage_named(str(value), self.visit.tables) or value
            self._write(plot, "stage_on", self.visit.written.date())
        if fact.about == "stress":
            self._write(plot, "stress_on", self.visit.written.date())
        if fact.about == "rate_mm_h":
            heard.cans = cans_told(self.visit.message.text, self.visit.person.units or "us") or heard.cans
            self._write(plot, "rate_source", "measured" if measured(self.visit.message.text) else "label")
            self._write(plot, "rate_on", self.visit.written.date())
        self._write(plot, fact.about, value)
        if fact.about == "emitters_each" and plot.facts.method is None:
            self._write(plot, "method", "drip")
        if fact.about == "soil":
            told_by = soil_source(self.visit.message.text)
            self._write(plot, "soil_source", told_by or plot.facts.soil_source or "told")
        heard.kept.append(replace(fact, plot=plot.name or None))

    def _write(self, plot: StoredPlot, about: str, value: Any) -> None:
        self.visit.store.facts.set(plot, about, value, at=self.visit.written, message=self.visit.message)

    def _set_plant(self, plot: StoredPlot, fact: Fact, heard: Heard) -> None:
        words = str(fact.value)
        if not _may_be_a_name(words):
            heard.unclear.append(words)
            return
        match = plants.find(words, self.visit.language, self.visit.tables)
        self._write(plot, "plant", match.plant)
        if plot.name == "":
            self.visit.store.plots.rename(plot, words.lower(), at=self.visit.written, message=self.visit.message)
        if match.how == "unknown":
            heard.unknown_plant = (words, match.choices)
        heard.kept.append(replace(fact, plot=self.visit.store.plots.by_id(plot.id).name or None))

    def _place(self, fact: Fact, heard: Heard) -> None:
        if fact.value == "unknown":
            heard.skipped = True
            return
        town, _, county = str(fact.value).rstrip(")").partition(" (")
        found = [each for each in places.find(town, self.visit.office.places) if not county or each.county == county]
        if not found:
            heard.unknown_place = str(fact.value)
            return
        if len(found) > 1 and not county:
            heard.which_place = fact
            heard.places = tuple(map(places.told_apart, found[:4]))
            return
        place = found[0]
        told_as = str(fact.value)
        values = {
            "place": told_as,
            "latitude": place.latitude,
            "longitude": place.longitude,
            "timezone": place.timezone,
        }
        for about, value in values.items():
            self.visit.store.facts.set(
                self.visit.person, about, value, at=self.visit.written, message=self.visit.message
            )
        heard.kept.append(replace(fact, value=places.found_as(told_as, place)))
        for plot in self.visit.plots():
            heard.touch(plot)


def _slots(statement: Reading | Watering | Rain | Sign) -> dict[str, Any]:
    return {name: value for name, value in vars(statement).items() if name not in ("plot", "on")}


def _may_be_a_name(words: str) -> bool:
    """Whether an answer can be the name of a plant at all."""
    letters = words.replace(" ", "").replace("'", "").replace("-", "")
    return len(words.split()) <= 4 and len(words) <= _LONGEST_NAME and letters.isalpha()


def _counting(kept: Kept) -> Kept:
    """What of a group was not set aside."""
    return replace(kept, items=tuple(each for each in kept.items if isinstance(each, StoredFact) or each.in_force))
