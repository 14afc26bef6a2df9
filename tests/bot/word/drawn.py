"""Advices drawn from a seed, over the ranges that the rules give; plot names plain, and as people may text them."""

import random
from datetime import date, timedelta

from bot.word.cautions import cautions
from rules.terms import Advice, Reason, Verdict

TODAY = date(2026, 7, 1)
ORDINARY = ("peaches", "tomatoes", "front lawn", "lower pears", "duraznos", "maíz de atrás", "bed 3", "")
AWKWARD = (
    "Ñandú’s “huerto” nº 4 — al fondo del patio",
    "🌵🌵 cactus",
    "виноград",
    "{a}[b]~|€^\\" * 4,
    "é" * 60,
    "½ acre",
    "*",
)
DOUBTS = ("stuck", "out_of_range", "against_evidence", "no_cause", "frozen", "settling", None)
RULES = (
    "not_a_watering_day",
    "given_today",
    "advised_already",
    "asleep",
    "puddles_today",
    "frozen_ground",
    "limit_near",
    "enough_left",
)
URGENCIES = ("today", "soon", "late", None)
GUESSES = ("plant", "soil", "place", "rate", "forecast")


def advice(draw: random.Random, names: tuple[str, ...] = ORDINARY, cautious: bool = False) -> Advice:
    """One advice; `cautious`: with any of the cautions, else none that speaks."""
    verdict = draw.choice(list(Verdict))
    ids = (
        draw.sample(sorted(cautions()), 2)
        if cautious
        else draw.sample(["planned_stress", "probe_doubt"], draw.randint(0, 1))
    )
    return Advice(
        verdict=verdict,
        plot=draw.choice(names),
        date=TODAY if verdict is Verdict.WATER else TODAY + timedelta(days=draw.randint(1, 28)),
        water_left=draw.random(),
        water_left_low=draw.random() / 2,
        water_left_high=draw.random() / 2 + 0.5,
        limit=draw.uniform(0.3, 0.8),
        stress_on=draw.choice([None, TODAY + timedelta(days=draw.randint(0, 9))]),
        doubt=draw.choice(DOUBTS) if verdict is Verdict.CHECK else None,
        doubtful=draw.choice([(), (1, 4)]),
        check_depth_cm=draw.choice([None, draw.uniform(5, 120)]),
        assumed=tuple(draw.sample(GUESSES, draw.randint(0, 5))),
        cautions=tuple(ids),
        rows=tuple(f"soils:loam:fc={draw.random():.2f} (FAO56 T19)" for _ in range(draw.randint(0, 9))),
        reasons=(
            balance(draw),
            *(depths(draw) if cautious and verdict is not Verdict.CHECK else []),
            Reason(rule=draw.choice(RULES)),
        ),
        **(water(draw) if verdict is Verdict.WATER else {}),
    )


def water(draw: random.Random) -> dict:
    cycles = draw.choice([1, 1, 2, 3, 4])
    known = {
        "depth_mm": draw.uniform(5, 120),
        "minutes": draw.choice([None, draw.randint(5, 60 * 32)]),
        "litres": draw.choice([None, draw.uniform(1, 90000)]),
        "litres_each": draw.choice([None, draw.uniform(0.5, 200)]),
        "cycles": cycles,
        "cycle_minutes": draw.uniform(3, 60) if cycles > 1 else None,
        "rest_minutes": draw.choice([None, 60, 120]) if cycles > 1 else None,
        "reaches_cm": draw.choice([None, draw.uniform(5, 120)]),
        "urgency": draw.choice(URGENCIES),
        "rain_counted_mm": draw.choice([0.0, draw.uniform(0, 30)]),
    }
    pot = {"until_drains": True, "urgency": draw.choice(URGENCIES)}
    return draw.choice([known, known, known, pot])


def depths(draw: random.Random) -> list[Reason]:
    """What readings of several depths said together, for one advice in five."""
    if draw.random() < 0.8:
        return []
    read = {"quantity": "tension", "value": float(draw.randint(0, 199)), "read_cm": draw.uniform(5, 120)}
    return [
        Reason(rule=each, numbers=read)
        for each in (draw.choice(["wet_below", "dry_below"]), draw.choice(["past_roots", "odd_probe", "hand_first"]))
    ]


def balance(draw: random.Random) -> Reason:
    numbers = {
        "store_mm": draw.uniform(10, 300),
        "depleted_mm": draw.uniform(0, 150),
        "root_depth_cm": draw.uniform(10, 150),
        "demand_mm_day": draw.uniform(0, 10),
        "efficiency": draw.uniform(0.5, 0.95),
        "rate_mm_h": draw.uniform(0.5, 80),
        "soil": draw.choice(["loam", "silty_clay_loam", None]),
    }
    kept = draw.sample(sorted(numbers), draw.randint(0, len(numbers)))
    return Reason(rule="balance", numbers={name: numbers[name] for name in kept})
