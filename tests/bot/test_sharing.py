"""Two people water one plot: one record and one advice, each in their own language, and each sees who told what. All invented."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

import pytest
from dry_july import dry_weather

from bot.line import Line, Message, open_line
from bot.message import Reply

NOON = datetime(2026, 7, 14, 12, 0)
WEATHER = dry_weather(NOON, ahead=9)
ANN, BETO, EVE = "+15550101", "+15550102", "+15550103"


class Clock:
    now = NOON

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def line(clock: Clock) -> Line:
    line = open_line(None, WEATHER, clock)
    text(line, "peaches, loam, drip, 44.1, -103.2")
    text(line, "44.1, -103.2")
    return line


def text(line: Line, words: str, sender: str = ANN, **more: Any) -> str:
    return " | ".join(each.text for each in replies(line, words, sender, **more))


def replies(line: Line, words: str, sender: str = ANN, **more: Any) -> list[Reply]:
    return line.receive(Message(channel="sms", sender=sender, text=words, **more))


def share(line: Line, sender: str = BETO, join: str = "UNIR") -> str:
    code = re.search(r"JOIN (\w{6})", text(line, "SHARE peaches"))
    assert code
    return text(line, f"{join} {code[1]}", sender)


def letters(line: Line, sender: str) -> list[str]:
    waiting = line.store.outbox.due("sms", NOON + timedelta(days=9), 50)
    return [each.text for each in waiting if each.address == sender]


def test_a_watering_texted_by_one_is_in_the_verdict_of_the_other_with_who_and_when(line: Line, clock: Clock) -> None:
    assert "el numero que termina en 0101" in share(line)
    text(line, "regue ayer 2 horas", BETO)
    clock.now += timedelta(hours=1)
    told = replies(line, "peaches?")
    verdict = next(each for each in told if each.verdict)
    assert "number ending 0102" in verdict.text
    assert "Jul 13" in verdict.text
    assert "2 h" in verdict.text
    assert "0102" not in text(line, "peaches?"), "what was said once is no news"


def test_both_get_one_advice_each_in_their_own_language(line: Line) -> None:
    share(line)
    text(line, "65 cb at 12 in")
    ours, theirs = replies(line, "when do i water"), replies(line, "cuando riego", BETO)
    ours, theirs = ([each for each in told if each.verdict] for told in (ours, theirs))
    assert [(each.verdict, each.date, each.depth_mm) for each in ours] == [
        (each.verdict, each.date, each.depth_mm) for each in theirs
    ]
    assert (ours[0].language, theirs[0].language) == ("en", "es")


def test_who_let_the_other_in_is_told_and_can_end_it(line: Line) -> None:
    share(line)
    (letter,) = letters(line, ANN)
    assert "You share peaches with the number ending 0102" in letter
    assert "no more" not in text(line, "UNSHARE peaches")
    assert "no se comparte peaches" in letters(line, BETO)[-1]
    person = line.store.people.known("sms", BETO)
    assert person
    assert line.store.plots.of(person) == []


@pytest.mark.parametrize("words", ["NO COMPARTIR peaches", "cerrar peaches"])
def test_who_joined_can_leave_and_the_plot_stays(line: Line, words: str) -> None:
    share(line)
    text(line, "regue ayer 2 horas", BETO)
    assert "queda en su registro" in text(line, words, BETO)
    assert "no more with the number ending 0102" in letters(line, ANN)[-1]
    assert "number ending" not in text(line, "peaches?")
    assert "peaches" in text(line, "list")
    assert "2 h" in text(line, "season") or "1 watering" in text(line, "season")


def test_who_leaves_is_reminded_of_the_plot_no_more(line: Line) -> None:
    share(line)
    text(line, "recuerdeme cuando regar", BETO)
    waiting = len(letters(line, BETO))
    text(line, "NO COMPARTIR peaches", BETO)
    assert (waiting, len(letters(line, BETO))) == (1, 0)


def test_a_code_that_is_wrong_used_or_old_lets_nobody_in(line: Line, clock: Clock) -> None:
    code = re.search(r"JOIN (\w{6})", text(line, "share"))
    assert code
    assert "don't know that code" in text(line, "JOIN BCDFGH", EVE)
    text(line, f"JOIN {code[1]}", BETO)
    assert "don't know that code" in text(line, f"JOIN {code[1]}", EVE)
    clock.now += timedelta(days=3)
    person = line.store.people.known("sms", EVE)
    assert person
    assert line.store.plots.of(person) == []


def test_only_who_made_the_plot_lets_others_in(line: Line) -> None:
    share(line)
    assert "Solo quien hizo peaches" in text(line, "compartir peaches", BETO)


def test_the_same_watering_told_by_both_is_asked_about_and_counts_once(line: Line) -> None:
    share(line)
    text(line, "watered 2 hours today")
    assert "¿Lo suyo fue otro riego?" in text(line, "regue 2 horas hoy", BETO)
    text(line, "no", BETO)
    plot = line.store.plots.of(line.store.people.everyone()[0])[0]
    assert len([each for each in line.store.log.observations(plot) if each.kind == "watering"]) == 1


def test_a_second_watering_is_added_when_its_teller_says_so(line: Line) -> None:
    share(line)
    text(line, "watered 2 hours today")
    text(line, "regue 1 hora hoy", BETO)
    text(line, "si", BETO)
    plot = line.store.plots.of(line.store.people.everyone()[0])[0]
    told = [each.slots["minutes"] for each in line.store.log.observations(plot) if each.kind == "watering"]
    assert told == [120, 60]


def test_rain_told_by_the_other_falls_on_the_shared_plot_too(line: Line) -> None:
    share(line)
    said = text(line, "llovio 20 mm ayer", BETO)
    assert said.count("20 mm") == 1
    plot = line.store.plots.of(line.store.people.everyone()[0])[0]
    assert [each.slots["depth_mm"] for each in line.store.log.observations(plot) if each.kind == "rain"] == [20]
    text(line, "deshacer", BETO)
    assert line.store.log.observations(plot) == []


def test_stop_of_one_stops_texts_to_that_one_alone(line: Line) -> None:
    share(line)
    text(line, "ALTO", BETO)
    text(line, "UNSHARE peaches")
    assert letters(line, BETO) == []
    assert "peaches" in text(line, "list")


def test_stop_before_a_letter_went_out_withholds_it(line: Line) -> None:
    share(line)
    text(line, "STOP")
    assert letters(line, ANN) == []


def test_forget_says_what_stays_with_the_other_and_the_other_is_told(line: Line) -> None:
    share(line)
    text(line, "watered 2 hours yesterday")
    assert "without your number and your words" in text(line, "forget me")
    text(line, "FORGET YES")
    assert line.store.people.known("sms", ANN) is None
    assert "0101" in letters(line, BETO)[-1]
    assert "peaches" in text(line, "lista", BETO)
    assert any(each.verdict for each in replies(line, "peaches?", BETO))


def test_each_calls_the_plot_as_they_like(line: Line) -> None:
    share(line)
    text(line, "renombrar peaches a duraznos", BETO)
    assert "duraznos" in text(line, "lista", BETO)
    assert "peaches" in text(line, "list")
    text(line, "regue los duraznos ayer 2 horas", BETO)
    assert "0102" in text(line, "peaches?")


def test_a_letter_waits_for_the_day(line: Line, clock: Clock) -> None:
    clock.now = NOON.replace(hour=23)
    share(line)
    assert [each for each in line.store.outbox.due("sms", clock.now, 50) if each.address == ANN] == []
    assert letters(line, ANN)


def test_a_name_with_a_script_is_only_a_name(line: Line) -> None:
    text(line, "rename peaches to <script>x")
    assert "JOIN" in text(line, "share <script>x")
