"""The page that a texted link opens: one graph with its story and its table, for a day, without a login."""

from __future__ import annotations

from collections.abc import Callable

from flask import Blueprint, make_response, render_template
from werkzeug.wrappers import Response

from bot.line import Office
from bot.links import Links
from bot.message import Drawing
from bot.word.catalogue import LANGUAGES
from bot.word.say import Words

_PAGE = "g"


def graph_pages(by_id: Callable[[int], Drawing | None], links: Links, office: Office) -> Blueprint:
    """The page at `/g/<what was signed>`.

    Args:
        by_id: the graph of an advice, while that is held.
    """
    pages = Blueprint(
        "graph", __name__, template_folder="templates", static_folder="static", static_url_path="/g/static"
    )

    def opened(signed: str) -> Drawing | None:
        what = links.read(_PAGE, signed)
        return by_id(what) if isinstance(what, int) else None

    @pages.get(f"/{_PAGE}/<signed>")
    def page(signed: str) -> Response:
        found = opened(signed)
        languages = [found.language] if found else LANGUAGES
        speakers = [Words(language, channel="web") for language in languages]
        shown = render_template("web/graph.html", drawing=found, speakers=speakers, office=office, signed=signed)
        response = make_response(shown, 200 if found else 410)
        response.headers["Cache-Control"] = "no-store"
        return response

    @pages.get(f"/{_PAGE}/<signed>/graph.svg")
    def picture(signed: str) -> Response:
        found = opened(signed)
        return drawn(found) if found else make_response("", 410)

    return pages


def drawn(drawing: Drawing) -> Response:
    """The drawing as a file for an `img`. It never changes."""
    response = make_response(drawing.svg())
    response.mimetype = "image/svg+xml"
    response.headers["Cache-Control"] = "private, max-age=86400"
    return response
