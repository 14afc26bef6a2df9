"""The page of the chat. A text is a form that is sent; the answer is the page again, with the conversation so far.

Script only spares the reload and looks for late answers: it asks for the same page and takes over what is new.
"""

from __future__ import annotations

import logging
from datetime import date

from flask import Blueprint, abort, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from bot.channels.web.graph import drawn
from bot.channels.web.newcomers import Newcomers
from bot.channels.web.shown import days
from bot.channels.web.visitor import Visitor, form_for, remember, sent_form, visitor
from bot.errors import BotError
from bot.line import Line, Office
from bot.message import Conversation, Message
from bot.word.catalogue import LANGUAGES
from bot.word.say import Words

log = logging.getLogger(__name__)

_CHANNEL = "web"
_SHOWN = 50
_LONGEST_TEXT = 1000
# What the store can count to.
_GREATEST = 2**63 - 1


def chat_pages(line: Line, office: Office, url: str) -> Blueprint:
    """The chat at `/chat`, where `/` leads too.

    Args:
        url: where the pages are reached from outside. If that is https, the cookie goes nowhere else.
    """
    pages = Blueprint(
        "chat", __name__, template_folder="templates", static_folder="static", static_url_path="/chat/static"
    )
    chat = Chat(line, office, secure=url.startswith("https:"))
    pages.register_error_handler(BotError, _unwell)
    pages.add_url_rule("/", "door", lambda: redirect(url_for("chat.page")))
    pages.add_url_rule("/chat", "page", chat.page)
    pages.add_url_rule("/chat", "text", chat.text, methods=["POST"])
    pages.add_url_rule("/chat/news", "news", chat.news)
    pages.add_url_rule(f"/chat/graph/<int(max={_GREATEST}):id>.svg", "graph", chat.graph)
    pages.add_url_rule("/chat/language", "language", chat.language, methods=["POST"])
    return pages


class Chat:
    """What the page answers to each request."""

    def __init__(self, line: Line, office: Office, *, secure: bool) -> None:
        self._line, self._office, self._secure = line, office, secure
        self._newcomers = Newcomers()

    def page(self) -> Response:
        """The conversation, or what came before it."""
        return self._page(visitor(request), before=request.args.get("before", type=_number))

    def news(self) -> Response:
        """The page if there is more than the turn `after`; else nothing."""
        who = visitor(request)
        said = self._conversation(who)
        if said is None or said.turns[-1].id <= request.args.get("after", 0, _number):
            return make_response("", 204)
        return self._page(who)

    def text(self) -> Response:
        """Take in a text."""
        who = visitor(request)
        form = sent_form(who, request.form.get("form", ""))
        text = (request.form.get("choice") or request.form.get("text", ""))[:_LONGEST_TEXT]
        if form is None:
            return self._page(who, notice="page.form_old", draft=text, status=400)
        known = self._conversation(who) is not None
        if form.known and not known:
            return self._forgotten(who)
        if not text.strip():
            return self._back(who)
        if not known and not self._newcomers.let_in():
            return self._page(who, notice="page.crowded", draft=text, status=503)
        try:
            self._take(who, text, form.message_id(text), known)
        except BotError:
            log.exception("a text on the page could not be kept")
            return self._page(who, notice="busy", draft=text, status=503)
        return self._back(who) if self._conversation(who) else self._forgotten(who)

    def language(self) -> Response:
        """Speak another language from now on."""
        who = visitor(request).speaking(request.form.get("language", ""))
        response = redirect(url_for("chat.page"), 303)
        if sent_form(who, request.form.get("form", "")) is None:
            return response
        if self._conversation(who) is not None:
            self._line.know(_CHANNEL, who.address, language=who.chosen)
        return remember(response, who, self._secure)

    def graph(self, id: int) -> Response:
        """A graph of the conversation; those of others are not there."""
        found = self._line.drawings.by_id(id)
        if found is None or found.owner != (_CHANNEL, visitor(request).address):
            abort(404)
        return drawn(found)

    def _take(self, who: Visitor, text: str, id_: str, known: bool) -> None:
        if not known and who.chosen:
            self._line.know(_CHANNEL, who.address, language=who.chosen)
        self._line.take(Message(channel=_CHANNEL, sender=who.address, text=text, id=id_, language=who.guess))

    def _back(self, who: Visitor) -> Response:
        """To the page, at the last text of the conversation."""
        said = self._conversation(who)
        return redirect(url_for("chat.page", _anchor=f"m{said.turns[-1].id}" if said else None), 303)

    def _forgotten(self, who: Visitor) -> Response:
        """The person is gone, and the address with them."""
        return self._page(who.anew(), notice="forget.done")

    def _conversation(self, who: Visitor, before: int | None = None) -> Conversation | None:
        found = self._line.conversation(_CHANNEL, who.address, _SHOWN, before)
        return found if found and found.turns else None

    def _page(
        self, who: Visitor, *, before: int | None = None, notice: str | None = None, draft: str = "", status: int = 200
    ) -> Response:
        said = self._conversation(who, before)
        language = (said and said.language) or who.language
        words = Words(language, channel=_CHANNEL, today=said.today if said else date.min)
        page = render_template(
            "web/chat.html",
            say=words.say,
            words=words,
            office=self._office,
            said=said,
            days=days(said, words) if said else (),
            before=before,
            notice=notice,
            draft=draft,
            form=form_for(who, known=said is not None),
            languages={each: words.say(f"language.own.{each}") for each in LANGUAGES},
            offered=_offered(said, words),
            longest=_LONGEST_TEXT,
        )
        response = make_response(page, status)
        response.headers["Cache-Control"] = "no-store"
        # A form from elsewhere comes without the cookie, and must not have it replaced.
        return response if status == 400 else remember(response, who, self._secure)


def _unwell(error: BotError) -> Response:
    """What to show when not even the page can be made."""
    log.error("the page could not be shown", exc_info=error)
    said = "\n".join(Words(language, channel=_CHANNEL).say("busy") for language in LANGUAGES)
    response = make_response(said, 503)
    response.mimetype = "text/plain"
    return response


def _number(written: str) -> int:
    """A number from an address. Raises: ValueError, for one that can be nothing of ours."""
    number = int(written)
    if not 0 < number <= _GREATEST:
        raise ValueError
    return number


def _offered(said: Conversation | None, words: Words) -> tuple[str, ...]:
    """The texts on the quick buttons: answers to the open question, or something to begin with."""
    if said is None:
        return (words.example(), words.say("page.try.watered"), words.say("page.try.when"))
    return (words.say("page.start"),) if said.stopped else said.choices
