from __future__ import annotations

import random
import subprocess
import sys
import time
from pathlib import Path

from store_talk import MORNING

from bot.store import Store, open_store

KILLS = 8


def deliver_and_kill(path: Path, first: int, seconds: float) -> list[int]:
    """The numbers that were acknowledged before the writer was killed, some time after its first."""
    command = [sys.executable, str(Path(__file__).with_name("store_writer.py")), str(path), str(first)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        begun = writer.stdout.readline()
        time.sleep(seconds)
        writer.kill()
        rest = writer.stdout.read()
    return [int(line) for line in (begun + rest).splitlines(keepends=True) if line.endswith("\n")]


def check_whole(store: Store, acknowledged: int) -> int:
    """Every acknowledged message is there once, with its observation; nothing is there in part. How many there are."""
    person = store.people.person("sms", "+15550100", MORNING)
    (plot,) = store.plots.of(person)
    messages = store.messages.of(person)
    numbers = [int(message.their_id or -1) for message in messages]
    assert numbers == list(range(len(numbers)))
    assert len(numbers) > acknowledged
    assert [each.slots["minutes"] for each in store.log.observations(plot)] == [float(number) for number in numbers]
    assert {message.replies for message in messages} == {("Saved.",)}
    assert [row[0] for row in store._database.rows("PRAGMA integrity_check")] == ["ok"]
    assert store._database.rows("PRAGMA foreign_key_check") == []
    return len(numbers)


def test_every_acknowledged_message_is_there_once_after_any_kill(tmp_path: Path) -> None:
    """Killed at moments drawn at random; what was not acknowledged, and the last that was, are delivered again."""
    path = tmp_path / "line.db"
    chance = random.Random(20260701)
    last = 0
    for _ in range(KILLS):
        acknowledged = deliver_and_kill(path, last, chance.uniform(0.0, 0.15))
        assert acknowledged == list(range(last, acknowledged[-1] + 1))
        last = acknowledged[-1]
        store = open_store(path)
        assert check_whole(store, last) <= last + 2
        store.close()
    assert last > KILLS
