"""The whole daemon, killed in the middle of its work and begun again: every report is on record once, and everybody is answered."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot_api import TOKEN, BotApi

from bot.store import open_store

PEOPLE = range(601, 613)


def office(folder: Path, api: BotApi) -> Path:
    today = datetime.now(UTC).date()
    past = [
        {"date": (today - timedelta(days=back)).isoformat(), "rain_mm": 0.0, "et0_mm": 6.0} for back in range(30, 0, -1)
    ]
    (folder / "weather.json").write_text(json.dumps({"past": past, "forecast": []}), encoding="utf-8")
    (folder / "token").write_text(TOKEN, encoding="utf-8")
    settings = f'weather = "weather.json"\n[http]\nport = 0\n[telegram]\ntoken_file = "token"\nservice = "{api.url}"\n'
    path = folder / "dropline.toml"
    path.write_text(settings, encoding="utf-8")
    return path


def begun(settings: Path) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-m", "bot", "serve", "--config", str(settings)], stderr=subprocess.PIPE)


def answers(api: BotApi) -> Counter[int]:
    return Counter(each.chat for each in api.said if "tomatoes" in each.text)


def test_a_daemon_killed_in_the_middle_loses_nothing(api: BotApi, tmp_path: Path) -> None:
    settings = office(tmp_path, api)
    now = int(datetime.now(UTC).timestamp())
    for who in PEOPLE:
        api.arrives(message=api.message(who, now, text="tomatoes 60 cb at 12 in"))
    first = begun(settings)
    api.until(lambda: len(api.said) >= 5)
    first.send_signal(signal.SIGKILL)
    first.communicate()

    second = begun(settings)
    api.until(lambda: set(answers(api)) == set(PEOPLE) and api.confirmed >= api.last_update)
    second.send_signal(signal.SIGTERM)
    _, log = second.communicate()

    store = open_store(tmp_path / "dropline.sqlite")
    people = {person.address: len(store.log.history(person)) for person in store.people.everyone()}
    store.close()
    assert people == {str(who): 1 for who in PEOPLE}
    # The one letter that had left when the power went, and was not yet noted, may be sent again.
    assert sum(answers(api).values()) <= len(PEOPLE) + 1
    assert TOKEN not in log.decode()
