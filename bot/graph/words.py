"""The picture in words: one line, the story in a few plain sentences, and the same data as rows of a table."""

from __future__ import annotations

from bot.graph.season import Graph
from bot.word import keeping
from bot.word.say import Words
from bot.word.voice import Part
from rules.terms import DayAhead, Heard, PastDay, Verdict

# Less water or rain than this in all has no amount that is worth telling. [mm]
_LEAST_MM = 0.5

Row = tuple[str, ...]


def alt(shown: Graph, words: Words) -> str:
    """The picture in one line, for who can't see it."""
    if shown.verdict is Verdict.WAIT and shown.look_on:
        then = words.say("graph.alt.WAIT", on=shown.look_on)
    else:
        then = words.say("graph.alt.WATER" if shown.verdict is Verdict.WATER else "graph.alt.CHECK")
    return words.say(
        "graph.alt",
        plot=words.plot(shown.plot),
        left_share=shown.today.left,
        limit_share=shown.today.limit,
        waterings=_waterings(shown, words),
        in_days=words.say("graph.in_days", n=(shown.today.on - shown.first).days + 1),
        next=then,
    )


def _waterings(shown: Graph, words: Words) -> str:
    count = len(shown.waterings)
    return words.say("season.waterings", n=count) if count else words.say("graph.no_watering")


def story(shown: Graph, words: Words) -> str:
    """The picture told in its one line and a few sentences; on SMS those that matter least leave until it fits two segments."""
    parts = [
        Part(alt(shown, words) + "."),
        *_way_here(shown, words),
        *_way_on(shown, words),
        Part(_given(shown, words), leaves=3),
        *_readings(shown, words),
    ]
    if shown.unknown_days:
        parts.append(Part(words.say("graph.no_weather", n=shown.unknown_days), leaves=6))
    return words.fit(parts, roomy=True)


def ruler(shown: Graph, words: Words) -> str:
    """How the readings go by a straight line, beside the estimate; empty where there are too few."""
    said = []
    for each in shown.trends:
        change = keeping.reading(words, each.quantity, _rounded(each.change_a_day))
        said.append(words.say(f"graph.trend.{each.quantity}", depth_cm=each.depth_cm, change=change))
        if each.reaches_on is not None:
            limit = keeping.reading(words, each.quantity, round(each.limit))
            said.append(words.say("graph.trend.reaches", reading=limit, when=each.reaches_on))
    return " ".join(said)


def _rounded(value: float) -> float:
    """One decimal, and none once that says nothing more."""
    return round(value, 1) if value < 10 else round(value)


def then(shown: Graph, words: Words) -> str:
    """What to do."""
    if shown.verdict is Verdict.WAIT and shown.look_on:
        return words.say("graph.next.WAIT", when=shown.look_on)
    return words.say("graph.next.WATER" if shown.verdict is Verdict.WATER else "graph.next.CHECK")


def _way_here(shown: Graph, words: Words) -> list[Part]:
    parts = []
    if shown.fall is not None:
        parts.append(Part(words.say("graph.fell", from_share=shown.fall.from_share, on=shown.fall.since), leaves=2))
    if shown.loss_a_day is not None:
        parts.append(Part(words.say("graph.loss", loss_share=shown.loss_a_day), leaves=5))
    return parts


def _way_on(shown: Graph, words: Words) -> list[Part]:
    last = shown.ahead[-1]
    if shown.passed:
        return [Part(words.say("graph.past"))]
    if shown.passes_on is not None:
        on = [Part(words.say("graph.reaches", when=shown.passes_on), leaves=1)]
    else:
        on = [Part(words.say("graph.holds", when=last.on), leaves=1)]
    spread = words.say("graph.spread", when=last.on, low_share=last.low, high_share=last.high)
    return [*on, Part(spread, leaves=7)]


def _given(shown: Graph, words: Words) -> str:
    """What it got since the first day."""
    things = []
    if shown.water_mm >= _LEAST_MM:
        waterings = _waterings(shown, words)
        things.append(words.say("graph.waterings", waterings=waterings, water_mm=shown.water_mm))
    elif shown.waterings:
        things.append(_waterings(shown, words))
    if shown.rain_mm >= _LEAST_MM:
        things.append(words.say("graph.some_rain", rain_mm=shown.rain_mm))
    if not things:
        return words.say("graph.no_rain", on=shown.first)
    some = shown.water_mm >= _LEAST_MM and any(mm is None for _, mm in shown.waterings)
    told = words.amounts.listed(things)
    return words.say("graph.given_some" if some else "graph.given", on=shown.first, things=told)


def _readings(shown: Graph, words: Words) -> list[Part]:
    parts = []
    counted = [heard for heard in shown.readings if heard.counted]
    if counted:
        last = counted[-1]
        said = words.say("graph.last_reading", reading=read(last, words), when=last.reading.on, left_share=last.left)
        parts.append(Part(said, leaves=4))
    if shown.left_out:
        parts.append(Part(words.say("graph.left_out", n=len(shown.left_out)), leaves=5))
    return parts


def read(heard: Heard, words: Words) -> str:
    """A reading as its person gave it: `45 cb at 12 in`."""
    return keeping.reading(words, heard.reading.quantity, heard.reading.value, heard.depth_cm)


def head(words: Words) -> Row:
    """The heads of the table's columns."""
    columns = ("day", "left", "between", "limit", "watered", "rain", "readings")
    return tuple(words.say(f"graph.head.{column}") for column in columns)


def rows(shown: Graph, words: Words) -> list[Row]:
    """The picture's data, a row a day, the days to come last; a cell is empty where there is nothing to tell."""
    past = [_past_row(shown, day, words) for day in shown.days]
    return past + [_ahead_row(shown, day, words) for day in shown.ahead]


def _past_row(shown: Graph, day: PastDay, words: Words) -> Row:
    return (
        words.value("on", day.on),
        words.value("left_share", day.left),
        words.say("graph.between", low_share=day.low, high_share=day.high),
        words.value("limit_share", day.limit),
        ", ".join(words.say("graph.some") if mm is None else words.value("water_mm", mm) for mm in day.waterings),
        "" if day.rain_mm is None else words.value("rain_mm", day.rain_mm),
        "; ".join(_meaning(heard, words) for heard in shown.readings if heard.reading.on == day.on),
    )


def _meaning(heard: Heard, words: Words) -> str:
    said = read(heard, words)
    if not heard.counted:
        return words.say("graph.means_nothing", reading=said)
    return words.say("graph.means", reading=said, left_share=heard.left)


def _ahead_row(shown: Graph, day: DayAhead, words: Words) -> Row:
    rain = ""
    if day.rain_mm and day.chance:
        rain = words.say("graph.may_rain", rain_mm=day.rain_mm, chance_share=day.chance)
    return (
        words.say("graph.evening", on=day.on),
        words.value("left_share", day.left),
        words.say("graph.between", low_share=day.low, high_share=day.high),
        words.value("limit_share", shown.today.limit),
        "",
        rain,
        "",
    )
