"""A SIM card's texts through the real daemon and a real line: in, out, reports, and what staff is told when something fails."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from threading import Event, Thread

import pytest
from modem import Modem, wait_until

from bot.channels.sim.worker import Sim
from bot.line import Line, open_line
from bot.message import Message

ANN, BEN, CAL = "+15550101", "+15550102", "+15550103"
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


def now() -> datetime:
    return datetime.now(UTC).replace(microsecond=0)


@contextmanager
def at_work(modem: Modem, line: Line, clock: Clock, take: Callable[[Message], None] | None = None) -> Iterator[Sim]:
    sim = Sim(take or line.take, line.post, modem.database, "1", clock)
    stop = Event()
    thread = Thread(target=sim.run, args=(stop,))
    thread.start()
    try:
        yield sim
    finally:
        stop.set()
        thread.join()


def held(line: Line, number: str) -> list[str]:
    person = line.store.people.known("sms", number)
    return [message.text for message in line.store.messages.of(person)] if person else []


def letters(line: Line) -> dict[str, int]:
    return line.store.outbox.counts().get("sms", {})


def test_a_text_is_answered_over_the_modem(modem: Modem, line: Line, clock: Clock) -> None:
    modem.start()
    with at_work(modem, line, clock):
        modem.text(ANN, "tomatoes 60 cb at 12 in, loam", now())
        wait_until(lambda: letters(line).get("taken") and not letters(line).get("waiting"))
    sent = modem.rows("SELECT * FROM sentitems ORDER BY ID")
    assert {row["DestinationNumber"] for row in sent} == {ANN}
    assert {row["Status"] for row in sent} == {"SendingOK"}
    # A letter of two segments is two rows of the daemon's.
    assert sum(row["SequencePosition"] == 1 for row in sent) == letters(line)["taken"]


def test_the_words_do_not_stay_with_the_daemon(modem: Modem, line: Line, clock: Clock) -> None:
    modem.start()
    with at_work(modem, line, clock):
        modem.text(ANN, "tomatoes 60 cb at 12 in, loam", now())
        wait_until(lambda: letters(line).get("taken") and not letters(line).get("waiting"))
    left = modem.rows("SELECT Text, TextDecoded FROM inbox UNION SELECT Text, TextDecoded FROM sentitems")
    assert [tuple(row) for row in left] == [("", "")]


def test_parts_in_any_order_are_one_message_and_letters_beyond_ascii_stay(
    modem: Modem, line: Line, clock: Clock
) -> None:
    # both kinds of reference: 8 and 16 bits (3GPP TS 23.040, 9.2.3.24.1 and 9.2.3.24.8)
    modem.text(ANN, "a bit dry", now(), "050003C40303")
    modem.text(ANN, "¿Cuánto riego? ½ ☀ \N{SEEDLING} ", now(), "050003C40302")
    modem.text(ANN, "Tomates, 45 cb. ", now(), "050003C40301")
    modem.text(BEN, "dry", now(), "06080401230202")
    modem.text(BEN, "lawn is ", now(), "06080401230201")
    modem.start()
    with at_work(modem, line, clock):
        wait_until(lambda: held(line, ANN) and held(line, BEN))
    assert held(line, ANN) == ["Tomates, 45 cb. ¿Cuánto riego? ½ ☀ \N{SEEDLING} a bit dry"]
    assert held(line, BEN) == ["lawn is dry"]


def test_what_came_of_a_text_with_a_missing_part_is_handed_over_as_such(modem: Modem, line: Line, clock: Clock) -> None:
    """The daemon gives the parts up one by one, each after its own wait."""
    came: list[Message] = []
    modem.text(ANN, "and the last.", now(), "050003C40303")
    modem.text(ANN, "The first", now(), "050003C40301")
    modem.start()
    with at_work(modem, line, clock, came.append):
        wait_until(lambda: len(came) == 2)
    assert {(message.text, message.media) for message in came} == {("The first", "part"), ("and the last.", "part")}


def test_a_batch_is_handed_over_in_the_order_sent_with_the_service_centres_time(
    modem: Modem, line: Line, clock: Clock
) -> None:
    came: list[Message] = []
    times = [now() - timedelta(minutes=minutes) for minutes in (5, 90, 40, 1)]
    for at in times:
        modem.text(ANN, f"{at:%H:%M}", at)
    modem.start()
    wait_until(lambda: len(modem.rows("SELECT 1 FROM inbox")) == 4)
    with at_work(modem, line, clock, came.append):
        wait_until(lambda: len(came) == 4)
    assert [message.sent_at for message in came] == sorted(times)


def test_what_the_daemon_stores_twice_is_one_message(modem: Modem, line: Line, clock: Clock) -> None:
    """A daemon that is killed between storing a text and deleting it from the modem stores it again."""
    at = now()
    modem.start()
    with at_work(modem, line, clock):
        modem.text(ANN, "watered 30 min", at)
        wait_until(lambda: held(line, ANN))
        modem.text(ANN, "watered 30 min", at)
        wait_until(lambda: len(modem.rows("SELECT 1 FROM inbox WHERE Processed = 'true'")) == 2)
    assert held(line, ANN) == ["watered 30 min"]


def test_machines_are_not_answered(modem: Modem, line: Line, clock: Clock) -> None:
    modem.text("72345", "Your bill is ready", now())
    modem.text("Network", "Welcome", now())
    modem.start()
    with at_work(modem, line, clock):
        wait_until(lambda: len(modem.rows("SELECT 1 FROM inbox WHERE Processed = 'true'")) == 2)
    assert line.store.people.everyone() == []


@pytest.mark.parametrize("text", ["Agua: 45 min. " * 14, "Mañana riego 1½ h \N{SEEDLING}. " * 9, "[ok] " * 50])
def test_a_long_letter_goes_out_in_parts_and_is_taken_once_all_are(
    modem: Modem, line: Line, clock: Clock, text: str
) -> None:
    line.store.outbox.put("sms", ANN, text, at=clock())
    with at_work(modem, line, clock):
        # before the daemon is there, to see it whole
        wait_until(lambda: modem.rows("SELECT 1 FROM outbox"))
        waiting = modem.rows("""SELECT TextDecoded, UDH, 1 AS part FROM outbox UNION ALL
            SELECT TextDecoded, UDH, SequencePosition FROM outbox_multipart ORDER BY part""")
        assert "".join(row["TextDecoded"] for row in waiting) == text
        assert [row["UDH"][-2:] for row in waiting] == [f"{number:02X}" for number in range(1, len(waiting) + 1)]
        modem.start()
        wait_until(lambda: letters(line) == {"taken": 1})
    sent = modem.rows("SELECT * FROM sentitems ORDER BY SequencePosition")
    assert [row["UDH"] for row in sent] == [row["UDH"] for row in waiting]


def test_a_letter_goes_out_at_once_wherever_the_machine_is(modem: Modem, line: Line, clock: Clock) -> None:
    """The daemon compares with its local time: a row with a time of UTC would wait for hours west of Greenwich."""
    modem.start(zone="America/Los_Angeles")
    line.store.outbox.put("sms", ANN, "WAIT lawn", at=clock())
    with at_work(modem, line, clock):
        wait_until(lambda: letters(line) == {"taken": 1})


def test_letters_to_one_number_keep_their_order(modem: Modem, line: Line, clock: Clock) -> None:
    ids = [line.store.outbox.put("sms", number, f"{n}", at=clock()) for n in range(5) for number in (ANN, BEN)]
    modem.start()
    with at_work(modem, line, clock):
        wait_until(lambda: letters(line) == {"taken": len(ids)})
    for number in (ANN, BEN):
        sent = modem.rows("SELECT CreatorID FROM sentitems WHERE DestinationNumber = ? ORDER BY ID", number)
        numbers = [int(row["CreatorID"].split()[1]) for row in sent]
        assert numbers == sorted(numbers)
        assert len(numbers) == 5


def test_a_report_of_delivery_reaches_the_letter(modem: Modem, line: Line, clock: Clock) -> None:
    line.store.outbox.put("sms", ANN, "WAIT lawn", at=clock())
    modem.start()
    with at_work(modem, line, clock):
        wait_until(lambda: letters(line) == {"taken": 1})
        modem.report(ANN, now())
        wait_until(lambda: modem.rows("SELECT 1 FROM sentitems WHERE Status = 'DeliveryOK'"))
        clock.ahead += timedelta(minutes=1)
        wait_until(lambda: letters(line) == {"arrived": 1})


def test_what_the_modem_could_not_send_is_tried_again_and_told(modem: Modem, line: Line, clock: Clock) -> None:
    """The dummy phone never refuses: here its daemon's note of what was sent is turned into one of an error."""
    modem.run("""CREATE TRIGGER refuse AFTER INSERT ON sentitems BEGIN
        UPDATE sentitems SET Status = 'SendingError' WHERE ID = new.ID; END""")
    for number in (ANN, BEN, CAL):
        line.store.outbox.put("sms", number, "WAIT lawn", at=clock())
    modem.start()
    with at_work(modem, line, clock) as sim:
        wait_until(lambda: "credit" in sim.health().says)
        assert line.post.due("sms") == []
        modem.run("DROP TRIGGER refuse")
        clock.ahead += timedelta(minutes=1)
        wait_until(lambda: letters(line) == {"taken": 3})
        assert sim.health().well
    assert len(modem.rows("SELECT 1 FROM sentitems")) == 6


def test_a_letter_that_the_daemon_dropped_is_given_to_it_again(modem: Modem, line: Line, clock: Clock) -> None:
    line.store.outbox.put("sms", ANN, "WAIT lawn", at=clock())
    with at_work(modem, line, clock):
        wait_until(lambda: modem.rows("SELECT 1 FROM outbox"))
        modem.run("DELETE FROM outbox")
        wait_until(lambda: modem.rows("SELECT 1 FROM outbox"))


def test_staff_is_told_what_is_wrong_and_texts_catch_up(modem: Modem, line: Line, clock: Clock) -> None:
    aside = modem.folder / "aside.db"
    with at_work(modem, line, clock) as sim:
        wait_until(lambda: "has found no modem yet" in sim.health().says)
        modem.start()
        wait_until(lambda: sim.health().well and "signal 42 %" in sim.health().says)  # what the dummy phone always has
        modem.kill()
        clock.ahead += timedelta(minutes=4)
        assert "no sign of gammu-smsd" in sim.health().says
        modem.text(ANN, "lawn is dry", now())
        line.store.outbox.put("sms", BEN, "WAIT lawn", at=clock())
        modem.start()
        wait_until(lambda: held(line, ANN) and modem.rows("SELECT 1 FROM sentitems WHERE DestinationNumber = ?", BEN))
        modem.kill()
        modem.database.rename(aside)
        wait_until(lambda: "is missing" in sim.health().says)
        modem.database.touch()
        wait_until(lambda: "load its sqlite.sql" in sim.health().says)


def test_a_locked_database_is_told_and_waited_for(modem: Modem, line: Line, clock: Clock) -> None:
    modem.start()
    line.store.outbox.put("sms", ANN, "WAIT lawn", at=clock())
    wait_until(lambda: modem.rows("SELECT 1 FROM phones"))
    holder = sqlite3.connect(modem.database, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with at_work(modem, line, clock) as sim:
        wait_until(lambda: "stays locked" in sim.health().says)
        assert not sim.health().well
        holder.execute("COMMIT")
        wait_until(lambda: letters(line) == {"taken": 1})
        wait_until(lambda: sim.health().well)
    holder.close()


def test_old_numbers_do_not_stay_with_the_daemon(modem: Modem, line: Line, clock: Clock) -> None:
    modem.start()
    with at_work(modem, line, clock):
        modem.text(ANN, "lawn is dry", now())
        wait_until(lambda: letters(line).get("taken") and not letters(line).get("waiting"))
        clock.ahead += timedelta(days=8)
        wait_until(lambda: not modem.rows("SELECT 1 FROM sentitems") and not modem.rows("SELECT 1 FROM inbox"))
