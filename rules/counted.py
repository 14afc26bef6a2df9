"""What of the reported counts: impossible and stuck readings are left out, the rest stands in its order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any

from rules import doubt
from rules.instruments import unusable
from rules.profile import Profile
from rules.season import filled
from rules.terms import Advised, Day, Observation, Reading, Watering, Weather

# A season is replayed from here at most.
_LONGEST_DAYS = 270
# What happened to a plot before its first report nobody knows: the weather of a few days before it is still counted. Where no
# reading and no watering was reported, nobody watered for this long, as far as we know.
_BEFORE_FIRST_DAYS = 3
_NO_REPORT_DAYS = 10
# From so many probes at one depth on, the middle one counts, and one gone astray moves nothing.
_PROBES = 3
_BESIDE_CM = 12.0
# A depth told twice, in inches and in cm or rounded, differs by less.
_TOLD_WITHIN_CM = 3.0
_BY_HAND = ("feel", "rod")


def doubtful_readings(
    about: Profile, given: tuple[Observation, ...], past: tuple[Day, ...], on: date
) -> tuple[int, ...]:
    """Which of the given observations are readings to be left out: impossible or frozen ones, and a run that is stuck."""
    frost = past if any(day.tmin_c is not None and day.tmin_c <= 0 for day in past) else ()
    stuck = {id(each) for each in doubt.stuck(shown_by_probes(given, on))[1:]}
    return tuple(
        index
        for index, each in enumerate(given)
        if isinstance(each, Reading)
        and (
            id(each) in stuck
            or unusable(each, about.plot.probe, about.plot.elevation_m)
            or (frost and doubt.in_frost(each, frost))
        )
    )


def shown_by_probes(given: tuple[Observation, ...], on: date) -> list[Reading]:
    """Every number of an instrument up to today, oldest first."""
    readings = [each for each in given if isinstance(each, Reading) and each.in_force and each.on <= on]
    return sorted((each for each in readings if each.quantity not in _BY_HAND), key=lambda each: each.on)


def in_order(given: tuple[Observation, ...], doubtful: tuple[int, ...], on: date) -> tuple[Observation, ...]:
    """What counts up to today, by day and time; an advised watering is dropped once one is reported."""
    left_out = set(doubtful)
    counted = [each for index, each in enumerate(given) if each.in_force and each.on <= on and index not in left_out]
    counted = told_once(_by_hand_first(middled(counted)))
    watered = {each.on for each in counted if isinstance(each, Watering)}
    counted = [each for each in counted if not (isinstance(each, Advised) and _reported(each, watered))]
    return tuple(sorted(counted, key=lambda each: (each.on, each.at or datetime.combine(each.on, datetime.min.time()))))


def middled(events: Sequence[Observation]) -> list[Observation]:
    """The same with one reading, the middle one, for three or more probes that were read at one depth at a time."""
    alike: dict[tuple[Any, ...], list[Reading]] = {}
    for each in events:
        if isinstance(each, Reading) and not isinstance(each.value, str):
            alike.setdefault(_probe_at(each), []).append(each)
    middles = {key: _middle(group) for key, group in alike.items() if len(group) >= _PROBES}
    if not middles:
        return list(events)
    kept: list[Observation] = []
    for each in events:
        middle = middles.get(_probe_at(each)) if isinstance(each, Reading) else None
        if middle is None or each is middle:
            kept.append(each)
    return kept


def _probe_at(reading: Reading) -> tuple[Any, ...]:
    return reading.on, reading.at, reading.quantity, reading.depth_cm


def _middle(group: list[Reading]) -> Reading:
    """The middle one; of an even number the greater figure of the two in the middle."""
    return sorted(group, key=lambda each: float(each.value))[len(group) // 2]


def _by_hand_first(events: list[Observation]) -> list[Observation]:
    """The same without the probes beside which a hand felt the soil that day: it outweighs them, whatever it said."""
    hands = [each for each in events if isinstance(each, Reading) and each.quantity == "feel"]
    if not hands:
        return events
    return [
        each
        for each in events
        if not isinstance(each, Reading) or each.quantity == "feel" or not any(beside(each, hand) for hand in hands)
    ]


def beside(reading: Reading, hand: Reading) -> bool:
    """Whether a hand felt the soil on the day and at about the depth of a reading; a depth that was not told is any."""
    apart_cm = _apart_cm(reading, hand)
    untold = reading.depth_cm is None or hand.depth_cm is None
    return reading.on == hand.on and (untold or apart_cm <= _BESIDE_CM)


def told_once(events: list[Observation]) -> list[Observation]:
    """The same reading told twice in a day is one piece of evidence, whatever was told between; with its depth, if told.

    Of a probe the first counts, since it follows a watering slowly; of a hand or a rod the last.
    """
    probes = _firsts(events, by_hand=False)
    return _firsts(probes[::-1], by_hand=True)[::-1]


def _firsts(events: list[Observation], *, by_hand: bool) -> list[Observation]:
    """The events without the readings, by hand or not, that one before them told already."""
    readings = [each for each in events if isinstance(each, Reading) and (each.quantity in _BY_HAND) is by_hand]
    if len(readings) < 2:
        return events
    placed = {_number(each) for each in readings if each.depth_cm is not None and not by_hand}
    told: dict[tuple[Any, ...], list[Reading]] = {}
    kept: list[Observation] = []
    for each in events:
        if isinstance(each, Reading) and (each.quantity in _BY_HAND) is by_hand:
            alike = told.setdefault(_number(each), [])
            if (each.depth_cm is None and _number(each) in placed) or any(_same_place(each, other) for other in alike):
                continue
            alike.append(each)
        kept.append(each)
    return kept


def _number(reading: Reading) -> tuple[Any, ...]:
    return reading.on, reading.quantity, reading.value


def _same_place(reading: Reading, other: Reading) -> bool:
    return None in (reading.depth_cm, other.depth_cm) or _apart_cm(reading, other) <= _TOLD_WITHIN_CM


def _apart_cm(reading: Reading, other: Reading) -> float:
    return abs((reading.depth_cm or 0.0) - (other.depth_cm or 0.0))


def _reported(advised: Advised, watered: set[date]) -> bool:
    return any(advised.on + timedelta(days=ahead) in watered for ahead in range(3))


def past_days(weather: Weather, events: tuple[Observation, ...], on: date) -> tuple[Day, ...]:
    """Every day from the start of the record to yesterday."""
    yesterday = on - timedelta(days=1)
    reported = min((event.on for event in events), default=on)
    known = weather.past[0].on if weather.past else reported
    since = reported - timedelta(days=_BEFORE_FIRST_DAYS)
    if not any(isinstance(event, Reading | Watering) for event in events):
        since = min(since, on - timedelta(days=_NO_REPORT_DAYS))
    first = max(min(reported, known), since, on - timedelta(days=_LONGEST_DAYS))
    return filled(weather.past, first, yesterday) if first <= yesterday else ()
