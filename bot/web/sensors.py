"""The door for sensors that report by themselves: JSON over HTTP, one observation or a batch, guarded by a token of the plot.

    POST /sensors
    Authorization: Bearer TOKEN
    {"observations": [{"at": "2026-07-01T06:00:00-05:00", "depth_cm": 30, "unit": "cb", "value": 45}]}

One observation may stand alone in place of the list. `at` needs its zone; `unit` is one of those of a logger's file. The same
observation again changes nothing, so a sensor may send until it is answered 200.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

import pandas as pd
from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from bot.errors import FileError
from bot.line import Line
from bot.logger.columns import UNITS
from bot.logger.intake import Intake
from bot.logger.readings import POSSIBLE

_MOST = 1000
_DEEPEST_CM = 300.0


def pages(line: Line) -> Blueprint:
    """The door as a blueprint."""
    door = Blueprint("sensors", __name__)

    @door.post("/sensors")
    def report() -> ResponseReturnValue:
        scheme, _, token = request.headers.get("Authorization", "").partition(" ")
        plot = line.store.tokens.plot_of(token.strip()) if scheme.lower() == "bearer" else None
        if plot is None:
            return {"error": "this needs the token of a plot, as: Authorization: Bearer TOKEN"}, 401
        given = request.get_json(silent=True)
        try:
            frame = _frame(given, line.time())
        except (FileError, ValueError) as error:
            return {"error": str(error)}, 400
        person = line.store.people.by_id(plot.person)
        if person.timezone is None:
            return {"error": "the plot's place is not known yet"}, 409
        new = Intake(line.store, line.time).report(person, plot, frame)
        return {"new": new, "known": len(frame) - new}, 200

    return door


def _frame(given: Any, now: datetime) -> pd.DataFrame:
    """The observations as readings in SI: at (UTC), quantity, value, depth_cm.

    Raises: FileError, ValueError, naming what can't be used; nothing of the batch is kept then.
    """
    observations = given.get("observations", [given]) if isinstance(given, Mapping) else None
    if not isinstance(observations, list) or not 0 < len(observations) <= _MOST:
        raise FileError(f"send an object with observations, at most {_MOST} at once")
    return pd.DataFrame([_reading(number, each, now) for number, each in enumerate(observations)])


def _reading(number: int, told: Any, now: datetime) -> dict[str, Any]:
    try:
        at, depth_cm = datetime.fromisoformat(told["at"]), float(told["depth_cm"])
        quantity, factor = UNITS[told["unit"]]
        value = float(told["value"]) * factor
    except (KeyError, TypeError, ValueError) as error:
        raise FileError(
            f"observation {number} needs at, depth_cm, unit and value: {type(error).__name__} {error}"
        ) from error
    low, high = POSSIBLE[quantity]
    if at.tzinfo is None:
        raise FileError(f"observation {number}: `at` needs its zone, such as 2026-07-01T06:00:00-05:00")
    if now.tzinfo is not None and at > now:
        raise FileError(f"observation {number}: `at` has not come yet")
    if not low <= value <= high or not 0 < depth_cm <= _DEEPEST_CM:
        raise FileError(f"observation {number}: no instrument says that")
    return {
        "at": pd.Timestamp(at).tz_convert("UTC"),
        "quantity": quantity,
        "value": value,
        "depth_cm": round(depth_cm, 1),
    }
