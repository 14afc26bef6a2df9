"""One statement written in English and in Spanish is read alike. Source of the expected values: the statement itself."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.understand import Context, Rain, Reading, Statement, Watering, read

_NOW = datetime(2026, 7, 15, 9, 30)
_CONTEXT = Context(now=_NOW, plots=("peaches", "tomatoes"))
_TODAY = _NOW.date()
_PLOTS = {"peaches": "duraznos", "tomatoes": "tomates"}
_UNITS = {
    "tension": ("centibars", "centibares"),
    "percent": ("percent", "por ciento"),
    "resistance": ("ohms", "ohmios"),
}
_INCH_MM = 25.4
_WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
_DIAS = ["lunes", "martes", "miercoles", "jueves", "viernes", "sabado", "domingo"]

_days = st.integers(0, 7).map(lambda back: _TODAY - timedelta(days=back))
_figures = st.integers(1, 800).map(lambda tenths: tenths / 10)


def _day(day: date) -> tuple[str, str]:
    back = (_TODAY - day).days
    if back < 3:
        return (("today", "hoy"), ("yesterday", "ayer"), ("the day before yesterday", "antier"))[back]
    return f"on {_WEEKDAYS[day.weekday()]}", f"el {_DIAS[day.weekday()]}"


def _both(english: str, spanish: str) -> tuple[Statement, Statement]:
    (one,), (other,) = read(english, _CONTEXT).statements, read(spanish, _CONTEXT).statements
    return one, other


@settings(deadline=None)
@given(st.sampled_from(sorted(_UNITS)), _figures, st.integers(4, 48), st.sampled_from(sorted(_PLOTS)), _days)
def test_a_reading_is_read_alike(quantity: str, value: float, inches: int, plot: str, day: date) -> None:
    (unit, unidad), (on, el) = _UNITS[quantity], _day(day)
    one, other = _both(
        f"the {plot} read {value:g} {unit} at {inches} inches {on}",
        f"los {_PLOTS[plot]} marcaron {value:g} {unidad} a {inches} pulgadas {el}",
    )
    assert one == other
    assert isinstance(one, Reading)
    assert (one.quantity, one.plot, one.on) == (quantity, plot, day)
    assert one.value == pytest.approx(value)
    assert one.depth_cm == pytest.approx(inches * 2.54)


@settings(deadline=None)
@given(st.integers(1, 600), st.sampled_from(sorted(_PLOTS)), _days)
def test_a_watering_is_read_alike(minutes: int, plot: str, day: date) -> None:
    on, el = _day(day)
    one, other = _both(
        f"I watered the {plot} for {minutes} minutes {on}", f"regue los {_PLOTS[plot]} {minutes} minutos {el}"
    )
    assert one == other == Watering(on=day, minutes=float(minutes), plot=plot)


@settings(deadline=None)
@given(st.integers(1, 60), _days)
def test_rain_is_read_alike(tenths: int, day: date) -> None:
    (on, el), inches = _day(day), tenths / 10
    one, other = _both(f"we got {inches:g} inches of rain {on}", f"llovieron {inches:g} pulgadas {el}")
    assert one == other
    assert isinstance(one, Rain)
    assert one.on == day
    assert one.depth_mm == pytest.approx(inches * _INCH_MM)
