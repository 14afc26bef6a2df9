"""Telegram away, refusing or asking for patience, and a line that is begun again: nothing is lost and nothing said twice."""

from __future__ import annotations

import logging
from collections.abc import Callable

import pytest
from bot_api import TOKEN
from telegram_town import ANN, BEN, Town, held_by_another_program

from bot.message import Message

REPORT = "tomatoes 60 cb at 12 in"


def ill(town: Town, part: str) -> str:
    """What the health of a part says once it is not well, with the time since when."""
    town.api.until(lambda: not town.health()[part].well)
    assert town.health()[part].since == town.clock.now
    return town.health()[part].says


def test_while_telegram_is_away_answers_wait_and_health_says_so(town: Town) -> None:
    town.talk(BEN, "/help")
    town.clock.on(hours=1)
    town.api.away = True
    town.line.take(Message(channel="telegram", sender=str(ANN), text=REPORT, id="1"))
    assert "can't be reached" in ill(town, "telegram out")
    town.api.stir()
    assert "can't be reached" in ill(town, "telegram in")
    town.api.away = False
    town.clock.on(minutes=10)
    answer = town.heard(ANN, 2)
    assert answer[-1].text.startswith("WATER tomatoes")
    town.api.until(lambda: all(each.well for each in town.crew.health()))


def test_what_people_wrote_while_telegram_was_away_is_answered_once(town: Town) -> None:
    town.talk(ANN, "/help")
    town.api.away = True
    town.api.stir()
    ill(town, "telegram in")
    town.writes(ANN, REPORT)
    before = len(town.api.to(ANN))
    town.api.away = False
    town.heard(ANN, before + 1)
    town.settled()
    assert town.record(ANN) == [("reading", 60.0)]
    assert len([each for each in town.api.to(ANN) if each.text.startswith("WATER")]) == 1


def test_when_asked_to_slow_down_a_letter_waits_as_long_as_it_was_told(town: Town) -> None:
    town.api.fails("sendMessage", 429, "Too Many Requests: retry after 1", retry_after=1)
    town.writes(ANN, REPORT)
    assert "slow down" in ill(town, "telegram out")
    # All that is due at once: the letter that was refused holds back the one behind it.
    assert town.line.post.due("telegram") == []
    assert town.api.to(ANN) == []
    town.clock.on(seconds=1)
    assert "computer answers" in town.heard(ANN, 2)[0].text
    assert town.api.to(ANN)[1].text.startswith("WATER")


def test_whoever_blocked_the_bot_has_said_stop(town: Town) -> None:
    town.talk(ANN, REPORT)
    town.api.blocked.add(ANN)
    town.line.take(Message(channel="telegram", sender=str(ANN), text="tomatoes 70 cb at 12 in", id="x"))
    person = town.line.store.people.known("telegram", str(ANN))
    assert person is not None
    town.api.until(lambda: town.line.store.people.by_id(person.id).stopped)
    assert town.talk(BEN, "lawn").text
    town.api.blocked.clear()
    assert "Good to have you back" in town.talk(ANN, "/start").text


def test_a_letter_that_telegram_will_never_take_keeps_nobody_waiting(town: Town) -> None:
    town.api.fails("sendMessage", 400, "Bad Request: chat not found", times=2)
    town.writes(ANN, REPORT)
    town.api.until(lambda: len(town.line.store.outbox.dead()) == 2)
    assert [each.problem for each in town.line.store.outbox.dead()] == ["Chat not found"] * 2
    assert town.talk(BEN, "lawn").text


def test_a_letter_that_breaks_the_service_is_tried_again_behind_the_others(town: Town) -> None:
    town.talk(BEN, "/help")
    town.api.fails("sendMessage", 500, "Internal Server Error")
    town.writes(ANN, REPORT)
    ill(town, "telegram out")
    assert town.talk(BEN, "lawn").text
    assert town.api.to(ANN) == []
    town.clock.on(seconds=2)
    assert len(town.heard(ANN, 2)) == 2


def test_a_refused_token_is_told_and_never_written_down(
    begin: Callable[[], Town], caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    begin_with = begin()
    begin_with.api.token = "somebody-elses"
    town = begin()
    assert "refuses the token" in ill(town, "telegram in")
    assert "refuses the token" in ill(town, "telegram out")
    assert TOKEN not in "".join(each.getMessage() for each in caplog.records if each.name.startswith("bot"))
    assert not any(TOKEN in each.says for each in town.crew.health())


def test_another_poller_is_told(town: Town) -> None:
    town.talk(ANN, "/help")
    town.api.fails("getUpdates", 409, "Conflict: terminated by other getUpdates request", times=2)
    town.writes(ANN, REPORT)
    assert "another program" in ill(town, "telegram in")
    town.api.until(lambda: town.record(ANN) and all(each.well for each in town.crew.health()))


def test_a_line_begun_again_sends_what_the_one_before_could_not(begin: Callable[[], Town]) -> None:
    town = begin()
    town.api.fails("sendMessage", 502, "Bad Gateway")
    town.writes(ANN, REPORT)
    ill(town, "telegram out")
    town = begin()
    town.clock.on(minutes=1)
    said = town.heard(ANN, 2)
    town.settled()
    assert [each.text[:5] for each in said] == [town.api.to(ANN)[0].text[:5], "WATER"]
    assert town.record(ANN) == [("reading", 60.0)]


def test_what_is_brought_again_after_a_new_beginning_is_answered_once(begin: Callable[[], Town]) -> None:
    """As when the power goes between the answer and the next poll, which would have confirmed."""
    town = begin()
    town.talk(ANN, REPORT)
    town.settled()
    said = len(town.api.to(ANN))
    town.api.forget_confirmed()
    town = begin()
    town.talk(BEN, "/help")  # comes after it
    assert len(town.api.to(ANN)) == said
    assert town.record(ANN) == [("reading", 60.0)]


def test_a_message_that_cannot_be_kept_waits_at_telegram(
    begin: Callable[[], Town], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.store.database.BUSY_S", 0.05)
    town = begin()
    town.talk(ANN, "/help")
    with held_by_another_program(town.database):
        town.writes(ANN, REPORT)
        assert "can't be kept" in ill(town, "telegram in")
    town.api.until(lambda: town.record(ANN) == [("reading", 60.0)])
