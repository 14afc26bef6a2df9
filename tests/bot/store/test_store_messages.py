from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

from store_talk import MORNING, Talk

from bot.store import Person, Store

HOUR = timedelta(hours=1)


def test_the_same_id_is_kept_once_and_remembers_its_answer(store: Store, person: Person) -> None:
    first = store.messages.keep(person, "45 at 12", MORNING, id="m1")
    assert first is not None
    store.messages.replied(first, ["WAIT until Friday.", "Look again then."])
    assert store.messages.keep(person, "45 at 12", MORNING + HOUR, id="m1") is None
    seen = store.messages.seen(person, "m1")
    assert seen is not None
    assert (seen.id, seen.replies) == (first.id, ("WAIT until Friday.", "Look again then."))


def test_the_same_id_of_another_person_is_another_message(store: Store, person: Person) -> None:
    other = store.people.person("sms", "+15550101", MORNING)
    assert store.messages.keep(person, "45", MORNING, id="1") is not None
    assert store.messages.keep(other, "60", MORNING, id="1") is not None


def test_messages_without_an_id_are_all_kept(store: Store, person: Person) -> None:
    assert store.messages.keep(person, "45", MORNING) is not None
    assert store.messages.keep(person, "45", MORNING) is not None


def test_a_near_duplicate_is_told_by_its_words_and_the_time_between(store: Store, person: Person) -> None:
    store.messages.keep(person, "Peaches  45 at 12", MORNING)
    near = store.messages.near_duplicate
    assert near(person, "peaches 45 at 12 ", MORNING + HOUR, within=HOUR) is not None
    assert near(person, "peaches 54 at 12", MORNING + HOUR, within=HOUR) is None
    assert near(person, "peaches 45 at 12", MORNING + HOUR + timedelta(seconds=1), within=HOUR) is None
    other = store.people.person("sms", "+15550101", MORNING)
    assert near(other, "peaches 45 at 12", MORNING, within=HOUR) is None


def test_what_the_office_wrote_is_no_near_duplicate(store: Store, person: Person) -> None:
    store.messages.keep(person, "ok", MORNING, author="office")
    assert store.messages.near_duplicate(person, "ok", MORNING, within=HOUR) is None


def test_a_message_counts_from_when_it_was_written(store: Store, person: Person) -> None:
    late = store.messages.keep(person, "watered", MORNING, sent_at=MORNING - 5 * HOUR)
    wrong_clock = store.messages.keep(person, "again", MORNING, sent_at=MORNING + 5 * HOUR)
    assert late is not None
    assert wrong_clock is not None
    assert late.written_at == MORNING - 5 * HOUR
    assert wrong_clock.written_at == MORNING  # nothing is written after it arrived
    assert wrong_clock.sent_at == MORNING + 5 * HOUR


def test_aware_times_are_kept_as_the_same_moment(store: Store, person: Person) -> None:
    there = datetime(2026, 7, 1, 7, 40, tzinfo=timezone(timedelta(hours=-5)))
    message = store.messages.keep(person, "45", there)
    assert message is not None
    assert message.received_at == there
    assert message.received_at.tzinfo == UTC


def test_messages_come_in_the_order_written(store: Store, talk: Talk) -> None:
    talk.say("second", sent_at=MORNING - HOUR)
    talk.say("third")
    talk.say("first", sent_at=MORNING - 2 * HOUR)
    assert [message.text for message in store.messages.of(talk.person)] == ["first", "second", "third"]
