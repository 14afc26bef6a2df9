"""What `[telegram]` of the office's settings says, and a bot made of it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from telegram import Bot

from bot.config import Section
from bot.errors import ConfigError

_SERVICE = "https://api.telegram.org"
PATH = "/telegram"
_SECRET = re.compile(r"[A-Za-z0-9_-]{16,256}")


@dataclass(frozen=True, kw_only=True)
class Settings:
    """Settings of the channel.

    Args:
        token: what makes us the office's bot; whoever has it reads and writes in its name.
        secret: what Telegram shows with each call of the webhook; None: we poll.
        service: address of the Bot API.
        url: where Telegram calls the webhook.
    """

    token: str = field(repr=False)
    secret: str | None = field(repr=False)
    service: str
    url: str

    @property
    def polls(self) -> bool:
        """Whether messages are fetched, not brought."""
        return self.secret is None

    def bot(self) -> Bot:
        """The office's bot, for one event loop."""
        return Bot(self.token, base_url=f"{self.service}/bot", base_file_url=f"{self.service}/file/bot")


def read(section: Section, url: str) -> Settings:
    """The settings in this section.

    Raises: ConfigError.
    """
    webhook = section.choice("mode", ("polling", "webhook")) == "webhook"
    secret = section.secret("secret_file") if webhook else None
    if webhook and not url.startswith("https://"):
        raise ConfigError('[telegram] mode = "webhook" needs [http] url = "https://...": Telegram calls nothing else')
    if secret is not None and not _SECRET.fullmatch(secret):
        raise ConfigError("[telegram] secret_file must hold 16 to 256 letters, digits, _ or -")
    settings = Settings(
        token=section.secret("token_file"),
        secret=secret,
        service=section.text("service", _SERVICE).rstrip("/"),
        url=url + PATH,
    )
    section.done()
    return settings
