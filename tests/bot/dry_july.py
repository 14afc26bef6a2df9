"""Invented weather for the tests of the line: dry, and 6 mm of demand a day."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any


def dry_weather(noon: datetime, ahead: int) -> dict[str, Any]:
    """30 days up to yesterday and so many days from today on."""

    def day(back: int) -> dict[str, Any]:
        return {"date": (noon - timedelta(days=back)).date().isoformat(), "rain_mm": 0.0, "et0_mm": 6.0}

    return {"past": [day(back) for back in range(30, 0, -1)], "forecast": [day(-on) for on in range(ahead)]}
