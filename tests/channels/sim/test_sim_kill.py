"""Two hundred texts through the real daemon and the real `dropline serve`, both killed on the way: nothing is lost or doubled."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from modem import Modem, wait_until

from bot.line import Line, open_line
from bot.message import Message
from bot.store import Store, open_store

PEOPLE, TEXTS_EACH = 100, 2
# Invented: dry days around today, which is what the machine's clock says.
TODAY = datetime.now(UTC).date()
WEATHER = {
    "past": [
        {"date": (TODAY - timedelta(days=back)).isoformat(), "rain_mm": 0.0, "et0_mm": 5.0} for back in range(20, 0, -1)
    ],
    "forecast": [{"date": (TODAY + timedelta(days=on)).isoformat(), "rain_mm": 0.0, "et0_mm": 5.0} for on in range(7)],
}
LONG = (
    "good morning, this is about the beans behind the shed and not the ones by the gate, i went out before breakfast and "
    "looked at the dial of the tensiometer twice to be sure: beans {cb} cb at 12 in"
)


@dataclass(frozen=True)
class Text:
    """A text as a phone sends it; `parts` where one SMS can't hold it."""

    sender: str
    words: str
    at: datetime
    parts: tuple[str, ...]


def texts() -> list[Text]:
    """Each a second after the one before; every fifth is long, every seventh not in the narrow alphabet."""
    begun = datetime.now(UTC).replace(microsecond=0) - timedelta(seconds=PEOPLE * TEXTS_EACH)
    found = []
    for number in range(PEOPLE * TEXTS_EACH):
        cb = 20 + number % 7 + 10 * (number // PEOPLE)
        words = LONG.format(cb=cb) if number % 5 == 0 else f"tomatoes {cb} cb at 12 in"
        if number % 7 == 0:
            words += ", gracias \N{SEEDLING} ½"
        size = 67 if not words.isascii() else 153
        parts = tuple(words[begin : begin + size] for begin in range(0, len(words), size)) if len(words) > 70 else ()
        found.append(Text(f"+155501{number % PEOPLE:02}", words, begun + timedelta(seconds=number), parts))
    return found


def lay(modem: Modem, text: Text) -> None:
    if not text.parts:
        modem.text(text.sender, text.words, text.at)
    for number, part in enumerate(text.parts, 1):
        modem.text(text.sender, part, text.at, f"050003{text.at.second:02X}{len(text.parts):02X}{number:02X}")


def settings(modem: Modem) -> Path:
    (modem.folder / "weather.json").write_text(json.dumps(WEATHER), encoding="utf-8")
    path = modem.folder / "dropline.toml"
    path.write_text(
        'database = "line.sqlite"\nweather = "weather.json"\n[http]\nport = 0\n[sim]\ndatabase = "sms.db"\n',
        encoding="utf-8",
    )
    return path


@contextmanager
def serving(path: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The line in a process of its own, killed in the end."""
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[3])}
    with (path.parent / "serve.log").open("ab") as log:
        command = [sys.executable, "-m", "bot", "serve", "--config", str(path)]
        process = subprocess.Popen(command, env=environment, stderr=log, stdout=log)
    try:
        yield process
    finally:
        process.kill()
        process.wait()


def taken(modem: Modem) -> int:
    return len(modem.rows("SELECT 1 FROM inbox WHERE Processed = 'true'"))


def stored(modem: Modem) -> int:
    return len(modem.rows("SELECT 1 FROM inbox"))


def idle(modem: Modem, store: Store) -> bool:
    """Nothing is on its way: not in the modem, with the daemon, or in the post."""
    waiting = "SELECT 1 FROM inbox WHERE Processed = 'false' UNION ALL SELECT 1 FROM outbox"
    return not (
        any(modem.inbox.iterdir()) or modem.rows(waiting) or store.outbox.counts().get("sms", {}).get("waiting")
    )


def undisturbed(sent: list[Text]) -> Line:
    """A line that got each text once, in order, and was never killed."""
    line = open_line(None, WEATHER)
    for text in sent:
        line.receive(Message(channel="sms", sender=text.sender, text=text.words, sent_at=text.at))
    return line


def record(store: Store) -> dict[str, object]:
    return {person.address: store.holdings.state(person) for person in store.people.everyone()}


def check(modem: Modem, store: Store, sent: list[Text]) -> None:
    """Each text is kept once and answered once, and each answer went out once."""
    replies = 0
    for person in store.people.everyone():
        messages = store.messages.of(person)
        assert [message.text for message in messages] == [text.words for text in sent if text.sender == person.address]
        assert all(message.replies for message in messages)
        replies += sum(len(message.replies) for message in messages)
    assert store.outbox.counts() == {"sms": {"taken": replies}}
    gone = modem.rows("SELECT CreatorID, SequencePosition FROM sentitems")
    assert len({row["CreatorID"].split()[1] for row in gone}) == replies
    assert len(gone) == len({(row["CreatorID"].split()[1], row["SequencePosition"]) for row in gone})
    assert record(store) == record(undisturbed(sent).store)


def test_nothing_is_lost_or_doubled_when_the_line_and_the_daemon_are_killed(modem: Modem) -> None:
    sent, path = texts(), settings(modem)
    half = len(sent) // 2
    modem.start()
    with serving(path):
        for text in sent[:half]:
            lay(modem, text)
        wait_until(lambda: taken(modem) >= 20)
    # the line is dead: texts go on coming, and some that came before come again
    for text in [*sent[half:], *sent[::10]]:
        lay(modem, text)
    wait_until(lambda: stored(modem) >= half)
    modem.kill()
    with serving(path):
        wait_until(lambda: taken(modem) >= half)
        modem.start()
        wait_until(lambda: modem.rows("SELECT 1 FROM sentitems"))
        modem.kill()
    modem.start()
    with serving(path) as process:
        store = open_store(modem.folder / "line.sqlite")
        wait_until(lambda: idle(modem, store))
        process.terminate()
        assert process.wait() == 0
    check(modem, store, sent)
    store.close()
