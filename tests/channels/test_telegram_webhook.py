"""The webhook: Telegram brings messages to the office's pages, and only Telegram can."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from bot_api import TOKEN, BotApi
from telegram_town import ANN, held_by_another_program

from bot import config
from bot.errors import ConfigError
from bot.serve import Running, assemble

SECRET = "only-telegram-knows-this"
HEADER = "X-Telegram-Bot-Api-Secret-Token"


def office(folder: Path, api: BotApi, **more: str) -> Path:
    """The settings of an office with a webhook."""
    (folder / "token").write_text(TOKEN + "\n", encoding="utf-8")
    (folder / "secret").write_text(more.pop("secret", SECRET) + "\n", encoding="utf-8")
    (folder / "weather.json").write_text('{"past": [], "forecast": []}', encoding="utf-8")
    path = folder / "dropline.toml"
    path.write_text(
        f"""weather = "weather.json"
        [http]
        url = "https://water.example"
        [telegram]
        token_file = "token"
        mode = "webhook"
        secret_file = "secret"
        service = "{api.url}"
        """
        + "\n".join(f'{name} = "{value}"' for name, value in more.items()),
        encoding="utf-8",
    )
    return path


@pytest.fixture
def running(api: BotApi, tmp_path: Path) -> Iterator[Running]:
    made = assemble(config.read(office(tmp_path, api)))
    made.crew.start()
    yield made
    made.crew.stop()
    made.line.store.close()


def brought(running: Running, update: Any, **headers: str) -> int:
    """Telegram's call; the status of our answer."""
    return running.app.test_client().post("/telegram", json=update, headers=headers).status_code


def report(api: BotApi) -> dict[str, Any]:
    return api.update(message=api.message(ANN, int(datetime.now(UTC).timestamp()), text="tomatoes 60 cb at 12 in"))


def kept(running: Running) -> int:
    person = running.line.store.people.known("telegram", str(ANN))
    return len(running.line.store.log.history(person)) if person else 0


def test_telegram_is_told_the_address_the_secret_and_what_to_bring(running: Running, api: BotApi) -> None:
    api.until(lambda: api.webhook["url"])
    assert api.webhook["url"] == "https://water.example/telegram"
    assert api.webhook["secret_token"] == SECRET
    assert api.webhook["allowed_updates"] == '["message", "edited_message"]'


def test_what_telegram_brings_is_kept_and_answered(running: Running, api: BotApi) -> None:
    assert brought(running, report(api), **{HEADER: SECRET}) == 200
    assert kept(running) == 1
    api.until(lambda: len(api.to(ANN)) == 2)
    assert "tomatoes" in api.to(ANN)[-1].text


def test_what_is_brought_twice_is_answered_once(running: Running, api: BotApi) -> None:
    update = report(api)
    assert [brought(running, update, **{HEADER: SECRET}) for _ in range(2)] == [200, 200]
    assert kept(running) == 1


@pytest.mark.parametrize("headers", [{}, {HEADER: ""}, {HEADER: "guessed"}, {HEADER: SECRET + "x"}, {HEADER: "ñ"}])
def test_whoever_does_not_know_the_secret_is_turned_away(
    running: Running, api: BotApi, headers: dict[str, str]
) -> None:
    assert brought(running, report(api), **headers) == 403
    assert kept(running) == 0


@pytest.mark.parametrize("update", [[], "text", {"message": {"text": 3}}, {"update_id": 5, "message": {"chat": 1}}])
def test_what_is_no_update_is_refused(running: Running, update: Any) -> None:
    assert brought(running, update, **{HEADER: SECRET}) == 400


def test_updates_of_other_kinds_are_let_go(running: Running) -> None:
    assert brought(running, {"update_id": 5, "poll": None}, **{HEADER: SECRET}) == 200


def test_what_cannot_be_kept_is_asked_for_again(api: BotApi, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.store.database.BUSY_S", 0.05)
    made = assemble(config.read(office(tmp_path, api)))
    with held_by_another_program(tmp_path / "dropline.sqlite"):
        assert brought(made, report(api), **{HEADER: SECRET}) == 503
    assert brought(made, report(api), **{HEADER: SECRET}) == 200
    made.line.store.close()


def test_health_tells_that_telegram_cannot_get_through(api: BotApi, tmp_path: Path) -> None:
    api.webhook |= {"last_error_date": int(datetime.now(UTC).timestamp()), "last_error_message": "Connection refused"}
    api.webhook["pending_update_count"] = 3
    made = assemble(config.read(office(tmp_path, api)))
    made.crew.start()
    api.until(lambda: not all(each.well for each in made.crew.health()))
    said = next(each.says for each in made.crew.health() if not each.well)
    made.crew.stop()
    made.line.store.close()
    assert said == "Telegram can't reach https://water.example/telegram: Connection refused"


@pytest.mark.parametrize(
    ("more", "problem"),
    [({"secret": "short"}, "secret_file must hold 16 to 256"), ({"colour": "blue"}, "there is no such setting")],
)
def test_settings_that_cannot_be_used_are_told(api: BotApi, tmp_path: Path, more: dict[str, str], problem: str) -> None:
    with pytest.raises(ConfigError, match=problem):
        assemble(config.read(office(tmp_path, api, **more)))
