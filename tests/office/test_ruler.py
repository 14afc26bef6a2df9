"""The ruler beside the picture on the office's page: how the readings go, and when they are at the limit."""

from __future__ import annotations

from datetime import date, timedelta

from office_desk import Desk

from bot.graph.season import graph
from bot.graph.words import ruler
from bot.word.say import Words
from rules import advise
from rules.history import history
from rules.terms import Plot, Reading


def test_the_office_reads_the_trend_and_its_day_beside_the_estimate(office: Desk) -> None:
    for words in ("tomatoes, loam, drip", "44.1, -103.2"):
        office.texts(words)
    for value in (20, 25, 30):
        office.clock.now += timedelta(days=1)
        office.texts(f"{value} cb at 12 in")
    rosa = office.browser("rosa", "specialist")
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    shown = rosa.get(f"/office/people/{office.person()}/plots/{plot.id}")
    assert "Readings at 12 in rise about 5 cb a day. In a straight line they are at the limit," in shown


def test_the_ruler_speaks_both_languages_and_is_silent_without_a_line() -> None:
    on = date(2031, 7, 15)
    plot = Plot(name="p", plant="tomatoes", soil="loam")
    told = [
        Reading(on=on - timedelta(days=2 - k), quantity="percent", value=28 - 2 * k, depth_cm=30.0) for k in range(3)
    ]
    shown = graph("p", history(plot, told, None, on), advise(plot, told, None, on))
    said = {language: ruler(shown, Words(language, "metric", "web", on)) for language in ("en", "es")}
    assert said["en"].startswith("Readings at 30 cm fall about 2% a day.")
    assert said["es"].startswith("Las lecturas a 30 cm bajan como 2% al día.")
    few = graph("p", history(plot, told[:2], None, on), advise(plot, told, None, on))
    assert ruler(few, Words("en", "us", "web", on)) == ""
