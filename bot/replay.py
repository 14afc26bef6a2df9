"""A conversation from a file, played on a fresh line: its clock is the turns' own."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from datetime import date, datetime
from typing import Any

from bot.errors import ConfigError
from bot.line import Line, open_line
from bot.message import Message, Reply
from bot.understand.statements import to_a_tenth

_OFFICE, _OURS = "office", "dropline"
_WIDTH = 100


class _Clock:
    """A clock that stands at the turn being played. A turn out of its order arrives now, and was written at its own time."""

    def __init__(self) -> None:
        self.now = datetime(2000, 1, 1)

    def __call__(self) -> datetime:
        return self.now


def played(script: Mapping[str, Any], *, as_json: bool, with_state: bool) -> Iterator[str]:
    """Every reply of a conversation as a line to print, in order.

    Args:
        script: `weather` (or null) and `turns`, as README.md tells ("A conversation").
        with_state: with `as_json`, a line more a turn with what the store then holds of its person.
    Raises: ConfigError, for a file of another shape.
    """
    if not isinstance(script, Mapping) or not isinstance(script.get("turns", []), list):
        raise ConfigError('a conversation is an object with "turns": [{"at": ..., "from": ..., "text": ...}]')
    clock = _Clock()
    heard: dict[str, datetime] = {}
    line = open_line(None, script.get("weather"), clock)
    for number, turn in enumerate(script.get("turns", ())):
        try:
            at, sender, text = _moment(turn["at"]), str(turn["from"]), str(turn.get("text", ""))
        except (KeyError, TypeError, ValueError) as error:
            raise ConfigError(f"turn {number} needs `at`, `from` and `text`: {error}") from error
        heard[sender] = clock.now = max(at, heard.get(sender, at))
        yield from _reminders(line, turn, number - 1, clock.now, as_json=as_json)
        replies = _replies(line, turn, sender, text)
        if as_json:
            yield from (json.dumps(_as_json(number, reply), ensure_ascii=False) for reply in replies)
            if with_state and sender != _OFFICE:
                yield json.dumps(_state(line, number, turn, sender), ensure_ascii=False)
        else:
            yield from _as_text(at, sender, text, replies)


def _replies(line: Line, turn: Mapping[str, Any], sender: str, text: str) -> list[Reply]:
    if sender == _OFFICE:
        return line.from_office(str(turn.get("to", "all")), text)
    sent_at = turn.get("sent_at") or turn["at"]
    message = Message(
        channel=str(turn.get("channel", "sms")),
        sender=sender,
        text=text,
        id=turn.get("id"),
        sent_at=_moment(sent_at),
    )
    return line.receive(message)


def _reminders(line: Line, turn: Mapping[str, Any], number: int, now: datetime, *, as_json: bool) -> Iterator[str]:
    """The reminders that went out since the turn before, as replies of that turn."""
    for letter in line.post.due(str(turn.get("channel", "sms"))):
        if letter.kind == "reminder":
            line.post.took(letter)
            reply = Reply(to=letter.address, text=letter.text, language=letter.language)
            if as_json:
                yield json.dumps(_as_json(number, reply), ensure_ascii=False)
            else:
                yield from (_line(f"{now:%a %b %d}", _OURS, letter.text), "")


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=None)


def _as_text(at: datetime, sender: str, text: str, replies: list[Reply]) -> Iterator[str]:
    yield _line(f"{at:%a %b %d %H:%M}", sender, text)
    yield from (_line("", _OURS, reply.text) for reply in replies)
    yield ""


def _line(when: str, who: str, said: str) -> str:
    """Who said what, wrapped for a terminal and for README.md."""
    head = f"{when:<16}  {who:>9}  "
    return textwrap.fill(said, _WIDTH, initial_indent=head, subsequent_indent=" " * len(head), break_on_hyphens=False)


def _as_json(turn: int, reply: Reply) -> dict[str, Any]:
    said = asdict(reply)
    del said["choices"]
    parts = said.pop("parts")
    said["images"] = 0 if said.pop("picture") is None else 1
    said["date"] = _iso(said["date"])
    said = {"turn": turn, **said}
    return said | {"parts": [part | {"date": _iso(part["date"])} for part in parts]} if parts else said


def _iso(on: date | None) -> str | None:
    return on.isoformat() if on else None


def _state(line: Line, number: int, turn: Mapping[str, Any], sender: str) -> dict[str, Any]:
    person = line.store.people.known(str(turn.get("channel", "sms")), sender)
    if person is None:
        return {"turn": number, "person": sender, "state": None}
    state = line.store.holdings.state(person)
    told = [{name: to_a_tenth(value) for name, value in each.items()} for each in state["observations"]]
    return {"turn": number, "person": sender, "state": {**state, "observations": told}}
