"""The line: one message in, the replies out. This is the way every message takes.

    receive -> danger? -> orders, or understand.read -> record.keep -> rules.advise -> word -> replies

All that a message changes is one transaction: when a reply has gone out, everything behind it is on the disk, once.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bot.conversation import conversation
from bot.drawings import Drawings
from bot.errors import BotError
from bot.feeds.feed import Feed
from bot.feeds.file import FileFeed
from bot.feeds.seen import Seen, SeenFeed
from bot.floods import spared
from bot.links import Links
from bot.local_time import local
from bot.message import Conversation, Message, Reply
from bot.office_tables import OfficeTables
from bot.post import Post
from bot.quiet import by_day
from bot.store import Person, Store, StoredAdvice, StoredMessage, open_store
from bot.talk.answers import Answerer
from bot.talk.own_answers import Forgotten
from bot.talk.sharing import farewell
from bot.talk.visit import Office, Visit
from bot.together import Together
from bot.word.say import Words
from rules import tables as rule_tables
from rules.errors import RulesError
from rules.tables import Tables
from rules.terms import Weather

__all__ = ["Line", "Message", "Office", "Reply", "open_line"]

log = logging.getLogger(__name__)

# The same words again within this may be the same message, sent twice by a person or a network.
_SAME_MESSAGE = timedelta(minutes=10)
# Channels whose letters carry no picture; a page draws for itself.
_WORDS_ONLY = frozenset({"sms", "web"})
# A message that took longer than this came late.
_LATE = timedelta(minutes=5)
# What was written longer ago than this is told, not asked: after an outage a person gets one answer to all of it,
_VERY_LATE = timedelta(days=1)
# once nothing more has come for this long.
_PILE = timedelta(minutes=1)
# No network keeps a text for longer (3GPP TS 23.040 clause 9.2.3.12.1, from memory): a clock that says so is wrong.
_WRONG_CLOCK = timedelta(weeks=63)


def open_line(
    database: Path | str | None = None,
    weather: Feed | Mapping[str, Any] | Path | str | None = None,
    clock: Callable[[], datetime] = datetime.now,
    *,
    office: Office | None = None,
    tables: Tables | None = None,
    links: Links | None = None,
) -> Line:
    """A line on a database.

    Args:
        database: its file; None keeps everything in memory.
        weather: a feed, or what a file of weather holds, or its path; None: no weather can be had.
        clock: the local time, or an aware one that is brought to each person's own zone.
        links: to pages that people can reach; None: there are none.
    """
    feed: Any = weather if hasattr(weather, "view") else FileFeed(weather)
    store = open_store(Path(database) if database is not None else None)
    return Line(store, feed, clock, office or Office(), tables or rule_tables.base(), links)


class Line:
    """One installation: an office and everyone who texts it."""

    def __init__(
        self,
        store: Store,
        feed: Feed,
        clock: Callable[[], datetime],
        office: Office,
        tables: Tables,
        links: Links | None = None,
    ) -> None:
        self.store, self.tables = store, OfficeTables(tables, store.table_rows)
        self.drawings, self._together = Drawings(store, self.tables), Together(self._take_all)
        self.post = Post(store, clock, self.drawings.png)
        self._feed, self._clock, self._office, self._links = feed, clock, office, links

    def receive(self, message: Message) -> list[Reply]:
        """Take in one message and answer it. A message that was taken in before gets no second answer.

        Never raises for what a person texts: what breaks is logged without their words, kept for a person to look at, and
        answered with an apology.
        """
        try:
            return self._receive(message, self._known_weather(message), by_post=False)
        except BotError:
            log.exception("a message on %s could not be kept", message.channel)
            return [self._plain(message, self._apology(message.channel, None))]

    def take(self, message: Message) -> None:
        """As `receive`, for a channel that sends by itself: the replies are put into its post, in the same transaction.

        Raises: StoreError, when the message could not be kept: hand it over again later.
        """
        self._together.bring(message)
        self.post.ring()

    def _take_all(self, messages: Sequence[Message]) -> None:
        seen = [self._known_weather(message) for message in messages]
        with self.store.transaction():
            for message, weather in zip(messages, seen, strict=True):
                self._receive(message, weather, by_post=True)

    def _known_weather(self, message: Message) -> Seen | None:
        """The weather where the sender is, fetched before the store is held: a slow service keeps nobody else waiting."""
        person = self.store.people.known(message.channel, message.sender)
        return self._weather(person) if person else None

    def _receive(self, message: Message, weather: Seen | None, by_post: bool) -> list[Reply]:
        carried = message.text.encode("utf-8", "replace").decode()
        message = message if carried == message.text else replace(message, text=carried)
        try:
            with self.store.transaction():
                return self._answered(message, weather, by_post)
        except Forgotten as gone:
            return self._forgotten(message, gone, by_post)
        except (BotError, RulesError, ValueError, ArithmeticError, LookupError, TypeError):
            log.exception("a message on %s could not be answered", message.channel)
            return self._broken(message, by_post)

    def _forgotten(self, message: Message, gone: Forgotten, by_post: bool) -> list[Reply]:
        with self.store.transaction():
            farewell(self.store, gone.person, self._clock())
            now = self._clock()
            self.store.holdings.forget(
                gone.person, now.replace(tzinfo=None), self._office.texts_locked_until(now.date())
            )
            # What was erased must be erased again from a backup that is brought back: the trail tells whom.
            self.store.deeds.add("the person", "erased the person, by FORGET", now, person=gone.person.id)
            replies = [self._plain(message, gone.text)]
            if by_post:
                self._mail(message, replies, None)
        return replies

    def _broken(self, message: Message, by_post: bool) -> list[Reply]:
        """What to say when answering failed: the message is kept all the same, and a person is called."""
        with self.store.transaction():
            person = self.store.people.person(message.channel, message.sender, self._clock().replace(tzinfo=None))
            now = self._local(person)
            kept = self.store.messages.keep(person, message.text, now, id=message.id, media=message.media)
            if kept is None:
                return []
            self.store.calls.call_person(person, "could not be answered", now, kept)
            replies = [] if person.stopped else [self._plain(message, self._apology(message.channel, person))]
            self.store.messages.replied(kept, [reply.text for reply in replies])
            if by_post:
                self._mail(message, replies, person)
            return replies

    def conversation(self, channel: str, sender: str, at_most: int, before: int | None = None) -> Conversation | None:
        """What was said with one person, for a channel that shows it; None: nobody has written from this address.

        Args:
            before: leaves out this turn, by its id, and all that came after.
        """
        person = self.store.people.known(channel, sender)
        if person is None:
            return None
        return conversation(self.store, self.drawings, person, self._local(person).date(), at_most, before)

    def know(self, channel: str, sender: str, *, language: str | None = None, units: str | None = None) -> None:
        """What is known of a person before their first text."""
        now = self._clock().replace(tzinfo=None)
        with self.store.transaction():
            person = self.store.people.person(channel, sender, now)
            for about, value in (("language", language), ("units", units)):
                if value is not None:
                    self.store.facts.set(person, about, value, at=now)

    def turn_away(self, channel: str, address: str, language: str | None = None) -> None:
        """Tell a group, where no advice is given, to write alone: once, and never again. Nothing else is kept of it.

        Raises: StoreError.
        """
        words = Words(language or "en", channel=channel)
        with self.store.transaction():
            if self.store.outbox.wrote_to(channel, address):
                return
            said = words.say("group")
            self.store.outbox.put(channel, address, said, at=self._clock(), kind="notice", language=words.language)
        self.post.ring()

    def from_office(self, to: str, text: str) -> list[Reply]:
        """A text of the staff to one address, or to `all`; nobody who stopped gets it."""
        with self.store.transaction():
            everyone = [person for person in self.store.people.everyone() if to in ("all", person.address)]
            return [self._from_office(person, text) for person in everyone if not person.stopped]

    def _from_office(self, person: Person, text: str) -> Reply:
        reply = self._by_office(person, text)
        self.store.messages.keep(person, reply.text, self._local(person), author="office", language=reply.language)
        return reply

    def _by_office(self, person: Person, text: str) -> Reply:
        words = Words(person.language or "en", person.units or "us", person.channel, self._local(person).date())
        said = words.say("office.says", office=self._office.called(words.language), message=text)
        return Reply(to=person.address, text=said, language=words.language, segments=words.segments(said))

    def time(self) -> datetime:
        """The time by the line's clock."""
        return self._clock()

    def weather_at(self, latitude: float, longitude: float) -> Weather:
        """The weather of today as the line sees it at a place."""
        return self._feed.view(latitude, longitude, self._clock().date())

    def as_office(self, person: Person, text: str) -> Reply | None:
        """A colleague's text to this person as it would go out; None: it is longer than a text may get."""
        reply = self._by_office(person, text)
        return reply if reply.text.endswith(Words(channel=person.channel).finish(text)) else None

    def write_as_office(self, person: Person, text: str, *, by: str, id: str) -> bool:
        """Put a colleague's text into the post at once; whether it was, and not sent before or unwanted.

        Args:
            text: one that `as_office` lets through.
            by: the colleague.
            id: tells this text from the same one sent twice by one press of a button.
        """
        reply, now = self._by_office(person, text), self._local(person)
        with self.store.transaction():
            if self.store.people.by_id(person.id).stopped:
                return False
            kept = self.store.messages.keep(
                person, reply.text, now, id=f"office {id}", author="office", by=by, language=reply.language
            )
            if kept is None:
                return False
            self.store.people.clear_question(person)
            self.store.outbox.put(
                person.channel, person.address, reply.text, at=self._clock(), person=person, language=reply.language
            )
        self.post.ring()
        return True

    def notify(self, people: Sequence[int], en: str, es: str, *, by: str, notice: int) -> None:
        """Put a notice of the office into the post for these people, each at the first hour of day where they are."""
        now = self._clock()
        with self.store.transaction():
            for person in map(self.store.people.by_id, people):
                reply = self._by_office(person, es if person.language == "es" else en)
                id_ = f"notice {notice}"
                kept = self.store.messages.keep(
                    person, reply.text, self._local(person), id=id_, author="office", by=by, language=reply.language
                )
                if kept is not None and not person.stopped:
                    self.store.outbox.put(
                        person.channel, person.address, reply.text, at=now, due_at=by_day(now, person), kind="notice",
                        person=person, language=reply.language, notice=notice,
                    )  # fmt: skip
        self.post.ring()

    def _weather(self, person: Person) -> Seen:
        """The weather where the person is; of who shares a plot and never told a place, where the plot is."""
        on, at = self._local(person).date(), (person.latitude, person.longitude)
        if person.latitude is None and (plots := self.store.plots.of(person)):
            at = (plots[0].facts.latitude, plots[0].facts.longitude)
        return Seen(*at, on, self._feed.view(*at, on))

    def _answered(self, message: Message, weather: Seen | None, by_post: bool) -> list[Reply]:
        line_now, messages = self._clock(), self.store.messages
        person = self.store.people.person(message.channel, message.sender, line_now.replace(tzinfo=None))
        now = local(line_now, person)
        replaces = messages.versions(person, message.replaces) if message.replaces else []
        written = self._written(message, replaces, person, now)
        delay = now - written if not replaces else timedelta(0)
        repeats = None if replaces else messages.near_duplicate(person, message.text, now, _SAME_MESSAGE)
        kept = messages.keep(
            person,
            message.text,
            now,
            id=_id(message, delay),
            sent_at=written,
            media=message.media,
            replaces=message.replaces,
        )
        if kept is None:
            return []
        visit = Visit(
            store=self.store,
            tables=self.tables.current(),
            office=self._office,
            links=self._links,
            person=person,
            message=kept,
            now=now,
            line_now=line_now,
            written=kept.written_at,
            repeats=repeats,
            replaces=tuple(replaces),
            late=delay > _LATE,
            joint=by_post and self.store.outbox.late_wait(message.channel, message.sender),
            language=person.language or message.language or "en",
            guessed=message.language,
        )
        replies = Answerer(visit, SeenFeed(self._feed, weather)).answer()
        if by_post:
            replies = self._posted(message, visit, replies, delay)
        self._keep_replies(visit, replies)
        return replies

    def _posted(self, message: Message, visit: Visit, replies: Sequence[Reply], delay: timedelta) -> list[Reply]:
        """The replies that are worth sending, put into the post."""
        sent = spared(visit, replies)
        if visit.draft.advices or visit.person.stopped:
            self.store.outbox.withdraw_late(message.channel, message.sender)
        kind = "late" if delay > _VERY_LATE else "idle" if visit.draft.idle else "answer"
        pictured = any(reply.picture for reply in sent)
        self._mail(message, sent, visit.person, kind, self.store.advices.answering(visit.message) if pictured else {})
        return sent

    def _keep_replies(self, visit: Visit, replies: Sequence[Reply]) -> None:
        drawn = [reply.picture.plot if reply.picture else None for reply in replies]
        self.store.messages.replied(visit.message, [reply.text for reply in replies], visit.language, drawn)

    def _written(self, message: Message, replaces: Sequence[StoredMessage], person: Person, now: datetime) -> datetime:
        """When it was written, where the person is; an edit tells of the time of the words that it replaces."""
        if replaces:
            return replaces[0].written_at
        if message.sent_at is None or message.sent_at.year < now.year - 2:
            return now
        written = min(local(message.sent_at, person), now)
        return written if now - written < _WRONG_CLOCK else now

    def _local(self, person: Person) -> datetime:
        return local(self._clock(), person)

    def _mail(
        self,
        message: Message,
        replies: Sequence[Reply],
        person: Person | None,
        kind: str = "answer",
        drawn: Mapping[int, StoredAdvice] = MappingProxyType({}),
    ) -> None:
        """Put the replies into the post; what answers a belated message waits for more of them.

        Args:
            drawn: by plot, the advices that pictures show.
        """
        outbox, now = self.store.outbox, self._clock()
        for reply in replies:
            # The first letter ever says who answers here: nothing takes its place.
            waits = kind == "late" and outbox.wrote_to(message.channel, message.sender)
            picture = reply.picture if message.channel not in _WORDS_ONLY else None
            outbox.put(
                message.channel,
                message.sender,
                reply.text,
                at=now,
                due_at=now + _PILE if waits else now,
                kind=kind if waits or kind != "late" else "answer",
                person=person,
                language=reply.language,
                asks=reply.asks,
                choices=reply.choices,
                advice=drawn[picture.plot].id if picture and picture.plot else None,
                alt=picture.alt if picture else "",
            )

    def _apology(self, channel: str, person: Person | None) -> str:
        words = Words((person and person.language) or "en", "us", channel, self._clock().date())
        return words.say("error", phone=self._office.phone)

    def _plain(self, message: Message, text: str) -> Reply:
        words = Words(channel=message.channel)
        return Reply(to=message.sender, text=text, segments=words.segments(text))


def _id(message: Message, delay: timedelta) -> str | None:
    """What tells a message from others: the channel's id, or of a late one its words and when they were written."""
    if message.id is None and message.sent_at is not None and delay > _LATE:
        return f"{message.sent_at.isoformat()} {message.text}"
    return message.id
