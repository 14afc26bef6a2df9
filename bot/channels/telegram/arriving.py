"""What arrives from Telegram, as messages to the line."""

from __future__ import annotations

import logging

from telegram import Message as Sent
from telegram import Update
from telegram.constants import ChatType

from bot.channels.telegram.commands import as_words
from bot.line import Line
from bot.logs import masked
from bot.message import Message

log = logging.getLogger(__name__)

CHANNEL = "telegram"
# What we ask Telegram for; all else, such as votes and reactions, stays there.
WANTED = ("message", "edited_message")
_LANGUAGES = ("en", "es")
_PICTURES = ("photo", "video", "animation")
_VOICES = ("voice", "audio", "video_note")
_FILES = ("document", "sticker")


class Arrivals:
    """Hands what arrives to the line."""

    def __init__(self, line: Line) -> None:
        self._line = line

    def take(self, update: Update) -> None:
        """Take in one update. When this returns it is kept, or nothing of it is for us.

        Raises: StoreError, when it could not be kept: hand it over again later.
        """
        sent = update.message or update.edited_message
        if sent is None:
            return
        if sent.chat.type != ChatType.PRIVATE:
            self._line.turn_away(CHANNEL, str(sent.chat.id), _language(sent))
            return
        message = _edit(update, sent) if update.edited_message else _message(sent)
        if message is None:
            log.info("nothing to read in what %s sent", masked(str(sent.chat.id)))
        else:
            self._line.take(message)


def _message(sent: Sent) -> Message | None:
    """What a person sent; None for what the service says of a chat, such as a new title."""
    media = _media(sent)
    text = _place(sent) or sent.text or sent.caption or ""
    if not text and media is None and sent.effective_attachment is None:
        return None
    return Message(
        channel=CHANNEL,
        sender=str(sent.chat.id),
        text=as_words(text),
        id=str(sent.message_id),
        sent_at=sent.date,
        media=media,
        language=_language(sent),
    )


def _edit(update: Update, sent: Sent) -> Message | None:
    """A message whose words were changed; a live place that moves on is none."""
    text = sent.text or sent.caption
    if text is None or sent.location is not None:
        return None
    return Message(
        channel=CHANNEL,
        sender=str(sent.chat.id),
        text=as_words(text),
        id=f"{sent.message_id}/{update.update_id}",
        sent_at=sent.date,
        replaces=str(sent.message_id),
        language=_language(sent),
    )


def _place(sent: Sent) -> str | None:
    """A place on the map as text, to about a kilometre: weather needs no finer, and nobody's house is kept."""
    place = sent.location
    return f"{place.latitude:.2f}, {place.longitude:.2f}" if place else None


def _media(sent: Sent) -> str | None:
    """What came that only a person can judge, with the id by which Telegram gives it out."""
    if sent.photo:
        return f"photo:{sent.photo[-1].file_id}"
    for kind, names in (("photo", _PICTURES), ("voice", _VOICES), ("file", _FILES)):
        for name in names:
            if attached := getattr(sent, name):
                return f"{kind}:{attached.file_id}"
    return None


def _language(sent: Sent) -> str | None:
    """A first guess, from the language of the person's telephone."""
    code = (sent.from_user and sent.from_user.language_code) or ""
    return next((language for language in _LANGUAGES if code.split("-")[0] == language), None)
