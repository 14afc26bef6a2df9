"""The office's pages: what staff sees of the line, and what it does there."""

from __future__ import annotations

from collections.abc import Callable

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from bot.office import showing
from bot.office.gate import guarded, log_in, login_page
from bot.office.house import House
from bot.office.routes import NAVIGATION, ROUTES

__all__ = ["House", "pages"]


_TROUBLE = (
    (
        400,
        "That did not work",
        "The form was not one of this page, or out of date. Nothing was changed: load the page again and try once more.",
    ),
    (
        403,
        "Not for this account",
        "Your account may not do that, and nothing was changed. Ask a keeper of your office.",
    ),
    (404, "Not here", "There is nothing at this address. It may have been erased."),
    (413, "Too much at once", "A file may have 24 MB at most. Cut it in two, and hand in one after the other."),
)


def _trouble(house: House, status: int, title: str, says: str) -> Callable[[Exception], ResponseReturnValue]:
    def trouble(_error: Exception) -> ResponseReturnValue:
        return render_template("office/trouble.html", office=house.office, title=title, says=says), status

    return trouble


def pages(house: House) -> Blueprint:
    """All pages of the office below `/office`."""
    found = Blueprint("office", __name__, url_prefix="/office", template_folder="templates", static_folder="static")
    found.add_url_rule("/login", "login", login_page(house))
    found.add_url_rule("/login", "log_in", log_in(house), methods=["POST"])
    views = {route.view: guarded(house, route.role, route.view) for route in ROUTES}
    for route in ROUTES:
        found.add_url_rule(route.rule, route.view.__name__, views[route.view], methods=[route.method])
    showing.add_to(found, house.tables, NAVIGATION)
    for status, title, says in _TROUBLE:
        found.register_error_handler(status, _trouble(house, status, title, says))
    # a number that no row can have
    found.register_error_handler(OverflowError, _trouble(house, *_TROUBLE[2]))
    return found
