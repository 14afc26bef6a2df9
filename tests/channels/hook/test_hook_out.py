"""What the provider is called with, and what each of its answers means for the letter and for staff."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, Thread

import pytest
from provider import TOKEN, Provider, wait_until

from bot import config
from bot.channels.hook.sending import Sender
from bot.channels.hook.settings import read
from bot.line import Line, open_line

ANN, BEN = "+15550101", "+15550102"
WEATHER = {"past": [], "forecast": []}


class Clock:
    """The machine's time, moved on by a test."""

    def __init__(self) -> None:
        self.ahead = timedelta()

    def __call__(self) -> datetime:
        return datetime.now(UTC) + self.ahead


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def line(clock: Clock) -> Line:
    return open_line(None, WEATHER, clock)


@contextmanager
def sending(settings: Path, line: Line, clock: Clock) -> Iterator[Sender]:
    sender = Sender(read(config.read(settings).file.table("hook")).out, line.post, clock)
    stop = Event()
    thread = Thread(target=sender.run, args=(stop,))
    thread.start()
    try:
        yield sender
    finally:
        stop.set()
        thread.join()


def put(line: Line, clock: Clock, text: str, number: str = ANN) -> int:
    return line.store.outbox.put("sms", number, text, at=clock())


def letters(line: Line) -> dict[str, int]:
    return line.store.outbox.counts().get("sms", {})


def test_a_letter_becomes_one_call_with_what_the_settings_name(
    settings: Path, line: Line, clock: Clock, provider: Provider
) -> None:
    put(line, clock, "ESPERE: césped, ½ pulg.")
    with sending(settings, line, clock) as sender:
        wait_until(lambda: letters(line) == {"taken": 1})
        assert sender.health().well
    (call,) = provider.calls
    assert call.fields == {"from": "+15550100", "to": ANN, "text": "ESPERE: césped, ½ pulg."}
    assert call.headers["Authorization"] == f"Bearer {TOKEN}"
    line.post.reported("sms", "m1", True)
    assert letters(line) == {"arrived": 1}


def test_a_provider_that_wants_a_form_gets_one(settings: Path, line: Line, clock: Clock, provider: Provider) -> None:
    changed = settings.read_text().replace('id = "message.id"\nerror', 'body = "form"\nid = "message.id"\nerror')
    settings.write_text(changed, encoding="utf-8")
    put(line, clock, "WAIT lawn & beans = 5 days")
    with sending(settings, line, clock):
        wait_until(lambda: letters(line) == {"taken": 1})
    assert provider.calls[0].headers["Content-Type"] == "application/x-www-form-urlencoded"
    assert provider.texts() == [(ANN, "WAIT lawn & beans = 5 days")]


@pytest.mark.parametrize("status", [400, 401, 408, 422, 429, 500, 503])
def test_a_refusal_that_may_pass_is_tried_again_with_the_same_key(
    settings: Path, line: Line, clock: Clock, provider: Provider, status: int
) -> None:
    provider.say(status, {"Retry-After": "1"})
    put(line, clock, "WAIT lawn")
    with sending(settings, line, clock):
        wait_until(lambda: provider.calls)
        wait_until(lambda: letters(line) == {"waiting": 1} and not line.post.due("sms"))
        clock.ahead += timedelta(minutes=1)
        wait_until(lambda: letters(line) == {"taken": 1})
    keys = [call.headers["Idempotency-Key"] for call in provider.calls]
    assert len(keys) == 2
    assert len(set(keys)) == 1


def test_no_two_letters_have_the_same_key(settings: Path, line: Line, clock: Clock, provider: Provider) -> None:
    for number in range(5):
        put(line, clock, "WAIT lawn", f"+1555010{number}")
    with sending(settings, line, clock):
        wait_until(lambda: letters(line) == {"taken": 5})
    assert len({call.headers["Idempotency-Key"] for call in provider.calls}) == 5


@pytest.mark.parametrize(("status", "code"), [(410, None), (400, "blocked")])
def test_a_person_who_blocked_the_line_counts_as_stopped(
    settings: Path, line: Line, clock: Clock, provider: Provider, status: int, code: str | None
) -> None:
    line.know("sms", ANN, language="en")
    provider.say(status, code=code)
    put(line, clock, "WAIT lawn")
    with sending(settings, line, clock):
        wait_until(lambda: letters(line) == {"dead": 1})
    person = line.store.people.known("sms", ANN)
    assert person is not None
    assert person.stopped


def test_letters_to_one_number_keep_their_order_when_one_is_put_off(
    settings: Path, line: Line, clock: Clock, provider: Provider
) -> None:
    provider.say(422)
    for text, number in (("first", ANN), ("second", ANN), ("other", BEN)):
        put(line, clock, text, number)
    with sending(settings, line, clock):
        wait_until(lambda: letters(line) == {"waiting": 2, "taken": 1})
        clock.ahead += timedelta(minutes=1)
        wait_until(lambda: letters(line) == {"taken": 3})
    assert provider.texts() == [(ANN, "first"), (BEN, "other"), (ANN, "first"), (ANN, "second")]


def test_a_redirect_is_not_followed(settings: Path, line: Line, clock: Clock, provider: Provider) -> None:
    """It would carry the office's secret to another address."""
    provider.say(307, {"Location": provider.url.replace("/texts", "/elsewhere")})
    put(line, clock, "WAIT lawn")
    with sending(settings, line, clock):
        wait_until(lambda: provider.calls and not line.post.due("sms"))
    assert [call.path for call in provider.calls] == ["/texts"]


def test_staff_is_told_when_nothing_goes_out_and_when_it_does_again(
    settings: Path, line: Line, clock: Clock, provider: Provider
) -> None:
    for status in (401, 401, 401):
        provider.say(status, {"Retry-After": "1"})
    put(line, clock, "WAIT lawn")
    with sending(settings, line, clock) as sender:
        for _ in range(3):
            wait_until(lambda: not line.post.due("sms"))
            clock.ahead += timedelta(minutes=10)
        wait_until(lambda: letters(line) == {"taken": 1})
        assert sender.health().well


def test_a_provider_that_is_gone_is_named(settings: Path, line: Line, clock: Clock, provider: Provider) -> None:
    settings.write_text(settings.read_text().replace(provider.url, "http://127.0.0.1:9/texts"), encoding="utf-8")
    for number in range(3):
        put(line, clock, "WAIT lawn", f"+1555010{number}")
    sender = Sender(read(config.read(settings).file.table("hook")).out, line.post, clock)
    for letter in line.post.due("sms"):
        with pytest.raises(Exception, match="no answer"):
            sender._send(letter)
    assert "no answer (ConnectionError)" in sender.health().says
    assert not sender.health().well
    assert letters(line) == {"waiting": 3}


def test_wrong_credentials_are_named(settings: Path, line: Line, clock: Clock, provider: Provider) -> None:
    sender = Sender(read(config.read(settings).file.table("hook")).out, line.post, clock)
    for number in range(3):
        provider.say(401)
        put(line, clock, "WAIT lawn", f"+1555010{number}")
    for letter in line.post.due("sms"):
        with pytest.raises(Exception, match="HTTP 401"):
            sender._send(letter)
    assert "[hook.out] secret" in sender.health().says
