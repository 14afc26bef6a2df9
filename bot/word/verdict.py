"""One advice as one text: the verdict word first, then what to do; the rest as far as there is room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from bot.word import asking, catalogue, cautions, keeping
from bot.word.voice import Part, Voice
from rules.delivery import run_minutes
from rules.terms import Advice, Reason, Verdict

_DEPTHS = ("wet_below", "dry_below", "past_roots", "odd_probe", "hand_first")
# What a person can tell; the missing forecast has a sentence of its own.
_GUESSES = frozenset({"plant", "soil", "place", "rate", "area", "count", "flow"})
# Rain expected in the next days that is worth waiting for. [mm]
_RAIN_MM = 1.0


def advice(voice: Voice, given: Advice, also: Sequence[str] = (), undo: bool = False, rod_due: bool = False) -> str:
    """The text of one advice.

    On SMS optional parts leave, in this order, until it fits one segment (two when a caution or `also` needs them):
    the offer of WHY, how deep the water goes, rain counted, the day of thirst, what was guessed, the check of the next
    day, the water left. That there is no forecast is always said.

    Args:
        also: texts that must follow the verdict, such as what was kept or a question.
        undo: something was kept that UNDO takes back; the hint is the first to leave.
        rod_due: ask for a rod to be pushed in the day after a watering.
    """
    caution = cautions.first(id_ for id_ in given.cautions if id_ != cautions.ON_PURPOSE)
    if caution and caution.rank == 1:
        return cautions.sentence(voice, caution.id)
    parts = [Part(head(voice, given)), *_details(voice, given, rod_due)]
    if caution:
        parts.append(Part(cautions.sentence(voice, caution.id), leaves=0 if caution.rank == 2 else 1))
    hint = [Part(voice.say("kept.undo"), leaves=9)] if undo else []
    offers = [*hint, Part(voice.say("more.why"), leaves=8)]
    return voice.fit([*parts, *map(Part, also), *offers], roomy=bool(caution or _depths(voice, given)))


def head(voice: Voice, given: Advice) -> str:
    """The verdict, the plot and what to do."""
    plot = voice.plot(given.plot)
    if given.verdict is Verdict.CHECK:
        check_cm = given.check_depth_cm or (asking.hand_cm(voice) if doubt(given) == "unsure" else None)
        return f"{voice.say(f'check.{doubt(given)}', plot=plot)} {hand_test(voice, check_cm)}"
    if given.verdict is Verdict.WAIT:
        return _till(voice, given, plot)
    return _water(voice, given, plot, amount(voice, given))


def _till(voice: Voice, given: Advice, plot: str) -> str:
    if given.date is None:
        return voice.say("wait.open", plot=plot)
    return voice.say("wait.till", plot=plot, when=given.date) if given.plot else voice.say("wait.look", when=given.date)


def _water(voice: Voice, given: Advice, plot: str, much: str) -> str:
    if given.date and given.date > voice.today:
        return voice.say("water.day", plot=plot, amount=much, when=given.date)
    urgency = given.urgency if given.urgency in ("soon", "late") else "today"
    return voice.say(f"water.{urgency}", plot=plot, amount=much)


def doubt(given: Advice) -> str:
    """Why the reading is doubted, `unsure` when it is not the reading."""
    return given.doubt if given.doubt and catalogue.has(f"check.{given.doubt}") else "unsure"


def hand_test(voice: Voice, check_cm: float | None) -> str:
    return voice.say("hand.at", check_cm=check_cm) if check_cm else voice.say("hand.by_probe")


def amount(voice: Voice, given: Advice, brief: bool = False) -> str:
    """What to put on: the run first, then what it comes to in brackets; a pot by its holes.

    Args:
        brief: only the first of these, for a list.
    """
    if given.until_drains:
        return voice.say("amount.drains")
    run = _run(voice, given)
    span = None if brief else _run_span(given)
    if span is not None:
        run = voice.say("amount.span", run=run, least_minutes=span[0], most_minutes=span[1])
    ways = [way for way in (run, _volume(voice, given), _depth(voice, given)) if way]
    if not ways:
        return voice.say("amount.soak")
    said = ways[0] if brief or len(ways) == 1 else voice.say("amount.with", amount=ways[0], more=", ".join(ways[1:]))
    return voice.say("amount.about", amount=said) if _GUESSES.intersection(given.assumed) else said


def _run(voice: Voice, given: Advice) -> str:
    if given.cycles > 1 and given.cycle_minutes:
        rest = {"rest_minutes": given.rest_minutes} if given.rest_minutes else {}
        key = "amount.runs_rest" if rest else "amount.runs"
        return voice.say(key, n=given.cycles, cycle_minutes=given.cycle_minutes, **rest)
    return voice.say("amount.run", minutes=given.minutes) if given.minutes else ""


def _volume(voice: Voice, given: Advice) -> str:
    if given.litres_each:
        return voice.say("amount.each", litres_each=given.litres_each)
    return voice.say("amount.all", litres=given.litres) if given.litres and not _run(voice, given) else ""


def _depth(voice: Voice, given: Advice) -> str:
    return voice.say("amount.depth", water_advised_mm=given.depth_mm) if given.depth_mm else ""


def _details(voice: Voice, given: Advice, rod_due: bool) -> list[Part]:
    """What else there is to say, in the order of the text."""
    return [
        *_depths(voice, given),
        *_after_water(voice, given, rod_due),
        *_wait(voice, given),
        *_restriction(voice, given),
        *_left(voice, given),
        *([Part(voice.say("more.rain", rain_mm=given.rain_counted_mm), leaves=6)] if _counts_rain(given) else []),
        *([Part(voice.say("more.no_forecast"))] if _blind(given) else []),
        *_guessed(voice, given),
    ]


def _depths(voice: Voice, given: Advice) -> list[Part]:
    """What readings at several depths say together, each with the one that decided."""
    said = [depths(voice, each) for each in given.reasons if each.rule in _DEPTHS]
    return [Part(text, leaves=0 if number == 0 else 2) for number, text in enumerate(said)]


def depths(voice: Voice, reason: Reason) -> str:
    """`It is wet at 36 in (9 cb): shorter runs, more often.`"""
    quantity, value, read_cm = (reason.numbers[name] for name in ("quantity", "value", "read_cm"))
    if reason.rule in ("odd_probe", "hand_first"):
        return voice.say(f"depths.{reason.rule}", reading=keeping.reading(voice, quantity, value, read_cm))
    return voice.say(f"depths.{reason.rule}", reading=keeping.reading(voice, quantity, value), read_cm=read_cm)


def _after_water(voice: Voice, given: Advice, rod_due: bool) -> list[Part]:
    if given.verdict is not Verdict.WATER or given.until_drains:
        return []
    season = {"refill_before_winter": "more.refill", "asleep": "more.winter"}.get(_rule(given))
    parts = [Part(voice.say(season), leaves=0 if season == "more.refill" else 1)] if season else []
    if given.check_depth_cm:
        check = "more.rod" if rod_due else "more.check"
        parts.append(Part(voice.say(check, check_cm=given.check_depth_cm), leaves=1 if given.urgency == "late" else 2))
    if given.reaches_cm and given.reaches_cm != given.check_depth_cm:
        parts.append(Part(voice.say("more.reach", reaches_cm=given.reaches_cm), leaves=7))
    return parts


def _wait(voice: Voice, given: Advice) -> list[Part]:
    if given.verdict is Verdict.CHECK:
        look = voice.say("check.look", when=given.date) if _later(voice, given.date) else ""
        return [Part(voice.say("hand.reply"), leaves=1), Part(look, leaves=4)]
    parts = [Part(because(voice, given), leaves=0 if _rule(given) == "not_a_watering_day" else 1)]
    if cautions.ON_PURPOSE in given.cautions:
        parts.append(Part(voice.say("more.on_purpose"), leaves=0 if given.verdict is Verdict.WAIT else 1))
    if given.verdict is Verdict.WAIT and given.stress_on and given.date and given.stress_on > given.date:
        parts.append(Part(voice.say("more.stress", when=given.stress_on), leaves=5))
    return parts


def _restriction(voice: Voice, given: Advice) -> list[Part]:
    """The watering rule of the place, where it says something of what is advised."""
    told = next((reason.numbers for reason in given.reasons if reason.rule == "restriction"), None)
    if told is None:
        return []
    place, hours = ("" if told["place"] == "*" else told["place"]), told["hours"]
    if _rule(given) == "rule_of_place":
        return [Part(voice.say("rule.day", when=given.date, hours=f" {hours}" if hours else ""))]
    if given.verdict is Verdict.WATER and hours:
        return [Part(voice.say("rule.hours", place=place or voice.say("rule.county"), hours=hours))]
    return []


def _rule(given: Advice) -> str:
    """The rule that decided."""
    return given.reasons[-1].rule if given.reasons else ""


def because(voice: Voice, given: Advice) -> str:
    """What holds the water back besides a full root zone, unless a caution says it; else empty."""
    if given.verdict is not Verdict.WAIT or cautions.first(given.cautions) is not None:
        return ""
    key = f"because.{_rule(given)}" if _rule(given) != "enough_left" else _near_limit(given)
    return voice.say(key) if catalogue.has(key) else ""


def _near_limit(given: Advice) -> str:
    """Why to wait, though less is left than the limit: the key of a sentence, or empty."""
    if given.water_left is None or given.limit is None or given.water_left >= given.limit:
        return ""
    return "because.rain" if _balance(given).get("expected_rain_mm", 0.0) >= _RAIN_MM else "because.close"


def _balance(given: Advice) -> Mapping[str, Any]:
    """The numbers of the sum."""
    return next((each.numbers for each in given.reasons if each.rule == "balance"), {})


def _later(voice: Voice, on: date | None) -> bool:
    return on is not None and on > voice.today


def _left(voice: Voice, given: Advice) -> list[Part]:
    """How full it is against its limit; a pot is told nothing of shares, and a doubted reading supports no number."""
    if given.water_left is None or given.limit is None or given.until_drains or given.verdict is Verdict.CHECK:
        return []
    # Where the verdict says that it is past its limit, the figures matter less than the check of the next day.
    leaves = 2 if given.verdict is Verdict.WATER and given.urgency == "late" else 1
    soon = given.verdict is Verdict.WATER and _rule(given) == "limit_near" and given.water_left > given.limit
    key = "more.left_soon" if soon else "more.left"
    return [Part(voice.say(key, left_share=given.water_left, limit_share=given.limit), leaves=leaves)]


def _blind(given: Advice) -> bool:
    """Whether the verdict had to do without a forecast; a CHECK hangs on none."""
    return "forecast" in given.assumed and given.verdict is not Verdict.CHECK


def _counts_rain(given: Advice) -> bool:
    return given.verdict is Verdict.WATER and given.rain_counted_mm >= 1 and not given.until_drains


def _guessed(voice: Voice, given: Advice) -> list[Part]:
    things = guesses(voice, given)
    return [Part(voice.say("more.assumed", things=voice.amounts.listed(things)), leaves=3)] if things else []


def _run_span(given: Advice) -> tuple[float, float] | None:
    """The shortest and longest run for the depth, by the rates that an assumed one lies between. [minutes]"""
    low, high = _balance(given).get("rate_low_mm_h"), _balance(given).get("rate_high_mm_h")
    if not (low and high and given.depth_mm and given.minutes) or given.cycles > 1:
        return None
    return run_minutes(given.depth_mm, high), run_minutes(given.depth_mm, low)


def guesses(voice: Voice, given: Advice) -> list[str]:
    """What was taken without being told, by name; the weather's gaps are no fault of the person."""
    return [voice.name("thing", thing) for thing in given.assumed if thing in _GUESSES]
