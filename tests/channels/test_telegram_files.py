"""What people sent can be had for staff to look at."""

from concurrent.futures import ThreadPoolExecutor

from bot_api import BotApi
from telegram_town import settings

from bot.channels.telegram.files import Files


def fetched(api: BotApi, id: str) -> bytes | None:
    """Fetched by a thread of its own, as the pages do; the main one may hold the loop of another test's browser."""
    with ThreadPoolExecutor(1) as pages:
        return pages.submit(Files(settings(api)), id).result()


def test_a_photo_is_had_by_its_id(api: BotApi) -> None:
    api.files["p1"] = b"\xff\xd8\xff a photo"
    assert fetched(api, "p1") == b"\xff\xd8\xff a photo"


def test_what_telegram_has_no_more_is_nothing(api: BotApi) -> None:
    assert fetched(api, "gone") is None
    api.away = True
    assert fetched(api, "p1") is None
