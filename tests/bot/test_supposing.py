"""What a what-if question supposes: days to come and amounts, in both languages. 15 July 2026 is a Wednesday."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from bot.talk.supposing import Supposed, supposed
from bot.understand.statements import Context

CONTEXT = Context(now=datetime(2026, 7, 15, 9, 30), plots=("peaches", "lawn"), probe="tension")

WAITS = [
    ("what if i wait till sunday", 19),
    ("What if I wait until Sunday to water?", 19),
    ("can i wait till sunday", 19),
    ("can it wait till friday?", 17),
    ("what if I wait till wednesday", 22),
    ("what if i skip a week", 22),
    ("skip a week?", 22),
    ("can we skip watering this week", 22),
    ("what if i dont water for 3 days", 18),
    ("can I wait another 3 days", 18),
    ("what if I wait till tomorrow", 16),
    ("what if I hold off until the weekend", 18),
    ("what if i wait till the 20th", 20),
    ("is it ok to wait until friday on the lawn", 17),
    ("¿Y si espero hasta el domingo?", 19),
    ("y si espero hasta mañana", 16),
    ("y si espero hasta pasado mañana", 17),
    ("puedo esperar al lunes?", 20),
    ("y si espero 3 dias", 18),
    ("que pasa si no riego hasta el viernes", 17),
    ("¿y si me salto una semana?", 22),
    ("y si no riego una semana", 22),
]
GIVES = [
    ("what if I only run it 20 minutes", "minutes", 20.0),
    ("can i just give it half an hour", "minutes", 30.0),
    ("what if I only water half an inch", "depth_mm", 12.7),
    ("¿y si nomás le doy 20 minutos?", "minutes", 20.0),
    ("y si solo riego media hora", "minutes", 30.0),
]
NEITHER = [
    "only 20 minutes",
    "watered only 20 minutes",
    "should i water",
    "should i wait",
    "waiting till sunday",
    "me salto una semana",
    "can i water tomorrow",
    "what if i wait till 2029",
    "skip",
    "wait",
    "what if " * 40,
]


@pytest.mark.parametrize(("text", "day"), WAITS)
def test_a_day_to_wait_till_is_read_in_the_time_to_come(text: str, day: int) -> None:
    found = supposed(text, CONTEXT)
    assert found is not None
    assert (found.until, found.watering) == (date(2026, 7, day), None)


@pytest.mark.parametrize(("text", "slot", "amount"), GIVES)
def test_a_smaller_watering_is_supposed_today(text: str, slot: str, amount: float) -> None:
    found = supposed(text, CONTEXT)
    assert found is not None
    assert found.watering is not None
    assert getattr(found.watering, slot) == pytest.approx(amount)


@pytest.mark.parametrize("text", NEITHER)
def test_reports_plans_and_other_questions_suppose_nothing(text: str) -> None:
    assert supposed(text, CONTEXT) is None


@pytest.mark.parametrize("text", ["what if it rains", "and if it rains tomorrow?", "y si llueve?"])
def test_rain_of_no_amount_is_supposed_as_such(text: str) -> None:
    assert supposed(text, CONTEXT) == Supposed(rain=True)


@pytest.mark.parametrize(
    ("text", "depth_mm"),
    [("what if it rains an inch", 25.4), ("what if we get 3/4 inch?", 19.05), ("y si llueven 10 mm?", 10.0)],
)
def test_rain_of_an_amount_is_supposed_as_water(text: str, depth_mm: float) -> None:
    asked = supposed(text, CONTEXT)
    assert asked
    assert asked.watering
    assert asked.watering.depth_mm == pytest.approx(depth_mm)
