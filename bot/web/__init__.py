"""The pages of a line, as one Flask application: it joins what the channels and the office bring, and guards them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from flask import Blueprint, Flask, Response

from bot.workers import Health

# Pages load nothing but what comes from here, and no script that stands in the page itself.
_GUARDS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}
_MOST_BYTES = 32 * 1024 * 1024


def create_app(secret: str, parts: Sequence[Blueprint], health: Callable[[], Sequence[Health]]) -> Flask:
    """The application.

    Args:
        secret: what sessions and links are signed with.
        parts: the pages, a blueprint each. Their common look is `/static/base.css`.
        health: how each part of the line is.
    """
    app = Flask(__name__, static_url_path="/static")
    app.config.update(
        SECRET_KEY=secret,
        MAX_CONTENT_LENGTH=_MOST_BYTES,
        SESSION_COOKIE_NAME="dropline",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
    )
    for part in parts:
        app.register_blueprint(part)

    @app.get("/health")
    def healthy() -> tuple[dict[str, object], int]:
        """For a watchdog: which parts are well, and nothing that is anybody's business."""
        found = {each.part: each.well for each in health()}
        return {"well": all(found.values()), "parts": found}, 200 if all(found.values()) else 503

    @app.after_request
    def guarded(response: Response) -> Response:
        for name, value in _GUARDS.items():
            response.headers.setdefault(name, value)
        return response

    return app
