"""A text read into statements: tokens, then tagged items, then clauses, then a short ordered list of readers for each clause.

Pure: all that it depends on is the text and the context.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from bot.understand import words as lists
from bot.understand.answers import answer, says_unknown, unknown
from bot.understand.by_ear import with_spoken_marks
from bot.understand.by_sound import with_sounds
from bot.understand.can_test import can_test, depths_mm, is_can_test
from bot.understand.clauses import Clause, clauses, softened
from bot.understand.corrections import corrected
from bot.understand.doubt import figures_left
from bot.understand.facts import facts, new_plot, settings, water_days
from bot.understand.hearsay import is_hearsay
from bot.understand.items import Item, Row
from bot.understand.language import language_of
from bot.understand.lexicon import plain_items, with_mended
from bot.understand.naming import named_thing
from bot.understand.not_done import not_watered, planned
from bot.understand.plots import with_plots
from bot.understand.rains import rains
from bot.understand.readings import readings
from bot.understand.remarks import is_remark, says_something
from bot.understand.requests import is_loose, is_question, parted, requests, whole_message
from bot.understand.signs import signs
from bot.understand.state import State, default_length_mm
from bot.understand.statements import Asked, Context, Fact, Reading, Request, Statement, Unclear, Understood, Watering
from bot.understand.stops import language_of_stop
from bot.understand.tagging import tagged_row
from bot.understand.tidying import tidied
from bot.understand.tokens import cleaned, tokenise
from bot.understand.towns import with_towns
from bot.understand.waterings import waterings

Reader = Callable[[Clause, State], list[Statement] | None]


def read(text: str, context: Context) -> Understood:
    """What a text says, in the light of the context. Any text gives an answer; time grows with its length.

    Args:
        text: the message as it was written, any Unicode.
        context: the time, plots, units, probe, language and open question of the person.
    Returns: the language and the statements, in the order of the message; SI units; None where nothing is settled.
    """
    text = cleaned(text)
    written = _items(text)
    words = with_mended(written, text)
    named = with_mended(with_towns(with_plots(written, context.plots), text), text)
    language = language_of(words, context.language, text)
    stop = None if any(item.kind == "plot" for item in named) else language_of_stop(written, language)
    if stop is not None:
        return Understood(language=stop, statements=(Request(want="stop"),))
    said = [item.text for item in words if item.kind != "mark"] or _lone_mark(words)
    short = whole_message(said, language, sum(item.kind == "plot" for item in named))
    if short is not None:
        return Understood(language=short[1], statements=(short[0],))
    named = with_sounds(named, text) if language == "es" else named
    row = tagged_row(named, language, context)
    dictated = not any(item.is_mark(*".,;:!?\n") for item in written)
    state = State(context=context, text=text, language=language, dictated=dictated)
    return Understood(language=language, statements=tuple(_statements(row, state)))


def _items(text: str) -> Row:
    """The words and marks of a cleaned text, as they were written."""
    return softened(with_spoken_marks(plain_items(tokenise(text))), text)


def _lone_mark(words: Row) -> list[str]:
    return ["?"] if words and all(item.is_mark("?") for item in words) else []


def can_depths_mm(text: str, units: str) -> tuple[float, ...] | None:
    """The single catches of a can test told in a text, or None when it tells none. [mm]"""
    context = Context(now=datetime(2000, 1, 1), units=units)
    text = cleaned(text)
    words = with_mended(_items(text), text)
    row = tagged_row(words, language_of(words, None, text), context)
    return depths_mm(row, units) if is_can_test(row, units) else None


def _statements(row: Row, state: State) -> list[Statement]:
    asked = state.context.asked
    if asked is not None and row:
        whole = Clause(tuple(row), asks=any(item.is_mark("?", "¿") for item in row))
        if asked.about == "plant" and whole.has(*_OF_GROUND) and not whole.asks:
            return _plant_and_more(row, state, asked)
        if not requests_first(whole, state) and (given := answer(whole, state, asked)) is not None:
            return given
        opening = next(iter(clauses(row)), whole)
        if says_unknown(opening, state) and opening.end < row[-1].start:
            later = [item for item in row if item.start >= opening.end]
            return [unknown(asked), *_told(later, state)]
    return _told(row, state)


_OF_GROUND = ("soil", "method")
_LEADS_TO_GROUND = {"mark", "word", "one", "at", "reads", "ground", "soilword"}


def _plant_and_more(row: Row, state: State, asked: Asked) -> list[Statement]:
    """ "tomatoes, loam, drip", asked what grows there: the plant is what stands before its ground and its water."""
    first = next(place for place, item in enumerate(row) if item.kind in _OF_GROUND)
    end = first
    while end and row[end - 1].kind in _LEADS_TO_GROUND:
        end -= 1
    plant = answer(Clause(tuple(row[:end])), state, asked) if end else None
    return [*plant, *_told(row[first:], state)] if plant else _told(row, state)


def _told(row: Row, state: State) -> list[Statement]:
    row, takes_back = corrected(row, state.language)
    made: list[Statement] = [Request(want="undo")] if takes_back else []
    asked_before: list[Statement] = []
    for clause in (part for whole in clauses(row) for part in parted(whole, state)):
        new = _of_clause(clause, state)
        if takes_back and _only_points(clause) and all(_is_loose_end(one) for one in new):
            new = []
        if asked_before and _wants(new) == _wants(
            asked_before
        ):  # asked in other words: once, and of the plot that is named
            new, made = (new, made[: -len(asked_before)]) if clause.has("plot", "all") else ([], made)
        if state.late_plot is not None and made and isinstance(made[-1], Watering) and made[-1].plot is None:
            made[-1] = replace(made[-1], plot=state.late_plot)
        state.late_plot = None
        made += new
        asked_before = new if _wants(new) else []
    made = tidied(made, row, state)
    return [_for_asked(statement, state) for statement in made]


_FIRST = ("stop", "person", "undo", "forget", "help")


def requests_first(clause: Clause, state: State) -> bool:
    """Whether a message asks to stop, to speak to somebody and the like, whatever was asked of it."""
    trial = State(context=state.context, text=state.text, language=state.language)
    made = requests(clause, trial)
    return any(isinstance(one, Request) and one.want in _FIRST for one in made or [])


def _of_clause(clause: Clause, state: State) -> list[Statement]:
    if clause.sentence != state.sentence:
        state.sentence, state.head_day, state.undone_day = clause.sentence, state.report_day, None
    if clause.says(*_REPORTS) and {item.kind for item in clause.items} <= _OF_A_HEADING:
        state.report_day = next((item.value for item in clause.every("date")), state.report_day)
    _note_head_day(clause, state)
    now = clause.says(*_STILL) or (
        (state.dictated or state.quantity is None) and clause.has("reads") and clause.says(*_READS_NOW)
    )
    if now and not clause.has("date"):
        state.head_day = None
    if not clause.quantities("tension", "resistance", "percent", "dial") and _note_temperature(clause, state):
        return []
    if clause.has("both") and _note_common_depth(clause, state):
        return []
    if clause.has("doubt"):
        return [Unclear(text=_written(clause, state))]
    for reader in _READERS:
        made = reader(clause, state)
        if made is not None:
            if reader in _NOTING_PLOTS:
                state.plots = tuple(str(item.value) for item in clause.every("plot")) or state.plots
            if reader in _DOUBTED and made and figures_left(clause, made):
                return [Unclear(text=_written(clause, state))]
            shown = signs(clause, state) or [] if reader in _BESIDE_SIGNS and clause.has("sign") else []
            return shown if shown and reader is _habit else [*made, *shown]
    _note_plot(clause, state)
    if not says_something(clause):
        return []
    unclear = Unclear(text=_written(clause, state))
    if is_remark(clause):
        state.remarks.append(unclear)
    return [unclear]


_REPORTS = lists.named("reports")
_STILL = lists.named("still")  # "el viernes otros 20, y el zacate sigue seco": what still is, is so today
_READS_NOW = lists.named("reads_now")
_OF_A_HEADING = {"date", "word", "chat", "mark", "one", "thing", "instrument", "reads"}


def _note_head_day(clause: Clause, state: State) -> None:
    """A day that stands before anything else in a sentence governs it; once one does, any later day takes its place."""
    for item in clause.items:
        if item.kind == "date":
            state.head_day = item.value
            return
        if (
            item.kind not in ("plot", "all", "chat", "word", "name", "thing", "one", "mark")
            or state.head_day is not None
        ):
            break
    if state.head_day is not None and (days := clause.every("date")):
        state.head_day = days[-1].value


def _note_temperature(clause: Clause, state: State) -> bool:
    """A soil temperature goes on all readings of the message; told alone it is no statement."""
    told = clause.quantities("temperature")
    of_soil = clause.has("ground") or any(word in _SOIL for item in told for word in item.text.split())
    if not told or not of_soil or clause.has("number", "slash", "feel", "ask"):
        return False
    state.soil_temp_c = told[0].value.value
    return True


_SOIL = ("soil", "ground", "suelo", "tierra")


def _note_common_depth(clause: Clause, state: State) -> bool:
    """ "all at 12 inches" gives the depth of every reading that has none."""
    if clause.quantities("tension", "resistance", "percent", "dial"):
        return False
    lengths = clause.quantities("length")
    numbers = clause.every("number")
    if len(lengths) + len(numbers) != 1:
        return False
    mm = lengths[0].value.value if lengths else default_length_mm(numbers[0].value, state.context.units, deep=True)
    state.depth_for_all_cm = mm / 10
    return True


def _note_plot(clause: Clause, state: State) -> None:
    named = tuple(str(item.value) for item in clause.every("plot"))
    told = named_thing(clause, state.text) if not named and len(clause.items) <= _HEADING else None
    state.plots = named or ((told,) if told else state.plots)


_HEADING = 2  # "grapes done": words that only head what follows


def _written(clause: Clause, state: State) -> str:
    end = clause.end
    if clause.asks and state.text[end : end + 1] in ("?", "!"):
        end += 1
    start = clause.start - (state.text[clause.start - 1 : clause.start] == "¿")
    return state.text[start:end]


def _weather_talk(clause: Clause, state: State) -> list[Statement] | None:
    """ "it was 104 here", "ayer hizo 38 grados": how hot it is, which nothing is made of."""
    if clause.says(*_HEAT):
        state.hot = clause.sentence
    if clause.has("plot", "instrument", "ground", "ask", "watered", "gave", "rain", "soil", "feel", "deep"):
        return None
    if clause.has("at") and not clause.says(*_HEAT):
        return None
    figures = [item for item in clause.items if item.kind in ("number", "quantity")]
    if len(figures) != 1:
        return None
    figure = figures[0]
    warm = figure.kind == "quantity" and figure.value.dimension == "temperature" and clause.has("date")
    told = warm or clause.says(*_HEAT) or _it_is(clause, figure) or state.hot == clause.sentence
    degrees = (
        figure.value.dimension == "temperature" if figure.kind == "quantity" else _HOT[0] <= figure.value <= _HOT[1]
    )
    return [] if told and degrees else None


_HOT = (85, 130)  # degrees F that people complain of


def _it_is(clause: Clause, figure: Item) -> bool:
    """Whether the figure is told of "it" with more words than a reading has: "it was 104 here"."""
    before = clause.items[: clause.items.index(figure)]
    return any(item.text in _WEATHER_IT for item in before) and any(item.text in _HERE for item in clause.items)


_HEAT = lists.named("heat")
_HERE = lists.named("here")
_WEATHER_IT = lists.named("weather_it")


def _hearsay(clause: Clause, state: State) -> list[Statement] | None:
    return [] if not clause.asks and is_hearsay(clause.items) else None


def _off_topic(clause: Clause, state: State) -> list[Statement] | None:
    """Pests, fertiliser, pruning: not for this reader, whatever else the clause seems to ask."""
    if not clause.has("pest") or clause.quantities("tension", "resistance", "percent", "dial"):
        return None
    if (clause.says(*_CHATTER) or (clause.has("plan") and not is_question(clause))) and not clause.asks:
        return []  # "costo 3000 pesos", "mañana vamos a podar"
    unclear = Unclear(text=_written(clause, state))
    if not clause.asks and not clause.has(*_OF_PLANTS) and not is_question(clause):
        state.remarks.append(unclear)  # "up before the birds"
    return [unclear]


_CHATTER = lists.named("chatter")
_OF_PLANTS = ("plot", "name", "all", "thing", "sign", "water", "number")


def _unanswered(clause: Clause, state: State) -> list[Statement] | None:
    """A question that no pattern knows: what it names is asked about, not reported."""
    if not is_question(clause):
        return None
    opening = clause.first("ask", "interrogative")
    if opening is None or (is_loose(opening) and state.language == "es"):
        return None
    return [Unclear(text=_written(clause, state))]


def _habit(clause: Clause, state: State) -> list[Statement] | None:
    """What is done every week is no event."""
    habit = clause.has("habit") or clause.quantities("habit")
    if not habit or not (
        clause.has("watered", "gave", "water", "method") or clause.quantities("duration", "habit", "volume")
    ):
        return None
    return [Unclear(text=_written(clause, state))]


_READERS: tuple[Reader, ...] = (
    new_plot,
    _hearsay,
    _weather_talk,
    _off_topic,
    settings,
    water_days,
    not_watered,
    can_test,
    requests,
    _unanswered,
    facts,
    planned,
    _habit,
    rains,
    waterings,
    readings,
    signs,
)


_NOTING_PLOTS: tuple[Reader, ...] = (_hearsay, not_watered, planned, _habit)
_DOUBTED: tuple[Reader, ...] = (rains, waterings, readings)
_BESIDE_SIGNS: tuple[Reader, ...] = (waterings, readings, rains, facts, _habit)


def _is_loose_end(statement: Statement) -> bool:
    return isinstance(statement, Unclear) or (isinstance(statement, Fact) and statement.about == "plant")


def _only_points(clause: Clause) -> bool:
    """ "that watering was on the beans": what was taken back belongs to another plot, which is asked about."""
    return clause.has("plot", "name") and not clause.has("number", "quantity", "slash", "feel", "soil", "sign", "ask")


def _wants(made: list[Statement]) -> set[str]:
    """What statements ask for that do nothing but ask; else nothing."""
    wants = {one.want for one in made if isinstance(one, Request)}
    return wants if all(isinstance(one, Request) for one in made) else set()


def _for_asked(statement: Statement, state: State) -> Statement:
    """A fact told in answer, in so many words, belongs to the plot that was asked about."""
    asked = state.context.asked
    if asked is None or not isinstance(statement, Fact | Reading | Watering) or statement.plot is not None:
        return statement
    about = {Reading: _OF_READINGS, Watering: ("watering", "amount", "minutes")}.get(type(statement), ())
    told = statement.about == asked.about if isinstance(statement, Fact) else asked.about in about
    return replace(statement, plot=asked.plot) if told else statement


_OF_READINGS = ("reading", "feel", "rod", "tension", "resistance", "percent", "dial")
