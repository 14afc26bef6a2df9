"""What people sent can be had for staff to look at."""

from bot_api import BotApi
from telegram_town import settings

from bot.channels.telegram.files import Files


def test_a_photo_is_had_by_its_id(api: BotApi) -> None:
    api.files["p1"] = b"\xff\xd8\xff a photo"
    assert Files(settings(api))("p1") == b"\xff\xd8\xff a photo"


def test_what_telegram_has_no_more_is_nothing(api: BotApi) -> None:
    assert Files(settings(api))("gone") is None
    api.away = True
    assert Files(settings(api))("p1") is None
