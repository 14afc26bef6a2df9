"""The passes that turn a row of words into tagged items, in the order in which each needs the one before."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words
from bot.understand.by_ear import heard
from bot.understand.clock import clock_span, hour_of_day, hours_and_minutes, with_runs
from bot.understand.dates import calendar_date, days_back, with_neighbours
from bot.understand.items import Item, Quantity, Row, Rule, at, joined, kind_at, rewrite, text_at
from bot.understand.labels import label
from bot.understand.lexicon import matching, tagged, unit_forms
from bot.understand.numbers import number, number_range, starts_unit
from bot.understand.patterns import phrased
from bot.understand.places import coordinates, postal_code, postal_word
from bot.understand.quantities import (
    area,
    bare_unit,
    negative,
    one_more,
    per_time,
    quantity,
    quantity_range,
    shared_unit,
    times,
    together,
)
from bot.understand.senses import an_hour, as_reason, lasted, one_more_of_it, shown, that_it_was, this_night
from bot.understand.statements import Context
from bot.understand.summing import with_day_of_both
from bot.understand.vessels import buckets
from bot.understand.which_plots import both_named, other_named, without_excepted
from rules.units import celsius

_BOTH = words.named("both")
_BETWEEN = words.named("between")
_PUSHED = words.named("pushed")
_FINGERS = words.named("fingers")


def tagged_row(row: Row, language: str, context: Context) -> Row:
    """The row with numbers, quantities, days and words of the lists as items."""
    row = _with_phrases(row, language, context.plots)
    for rule in _of_figures(context):
        row = rewrite(row, rule)
    row = with_runs(row)
    for rule in _of_amounts(context):
        row = rewrite(row, rule)
    return with_day_of_both(with_neighbours(row))


def _of_figures(context: Context) -> tuple[Rule, ...]:
    """The rules that make figures of words, and of figures places, temperatures and times of day."""
    return (
        heard,
        label,
        negative,
        number,
        age,
        coordinates,
        postal_code(context.probe),
        soil_temperature(context.units),
        hours_and_minutes,
        clock_span,
    )


def _of_amounts(context: Context) -> tuple[Rule, ...]:
    """The rules that make days and quantities of figures, and of these what they are together."""
    today = context.now.date()
    return (
        calendar_date(today, context.units),
        hour_of_day,
        number_range,
        out_of_ten,
        quantity(context.units),
        one_more,
        bare_unit,
        together,
        shared_unit,
        area,
        buckets,
        times,
        quantity_range,
        per_time,
        days_back(today),
        aside,
        before_now,
        lone_unit,
        shown,
        lasted,
        about,
        to_the,
        this_night(context.now),
        that_it_was,
        as_reason,
        one_more_of_it,
    )


def _with_phrases(row: Row, language: str, plots: tuple[str, ...]) -> Row:
    """The row with the forms of the lists and what they say together, numbers still as they were written."""
    row = tagged(rewrite(rewrite(rewrite(rewrite(row, phrased(language)), by_finger), so_that), on_the_way), language)
    for rule in (deep_one, falling_leaves, postal_word, wholly, soaked, an_hour):
        row = rewrite(row, rule)
    return other_named(both_named(without_excepted(row, plots)), plots)


def soil_temperature(units: str) -> Rule:
    """The rule for "temp 65": a figure after the word is a temperature even without degrees."""

    def rule(row: Row, place: int) -> tuple[Item, int] | None:
        if row[place].text not in words.named("temperature_words"):
            return None
        figure_at = place + 1
        while text_at(row, figure_at) in _TO_DEGREES and figure_at < place + 5:
            figure_at += 1
        figure = at(row, figure_at)
        if figure is None or figure.kind != "number" or starts_unit(row, figure_at + 1):
            return None
        degrees_c = celsius(figure.value) if units == "us" else float(figure.value)
        return joined("quantity", Quantity("temperature", degrees_c), row[place : figure_at + 1]), figure_at + 1 - place

    return rule


_TO_DEGREES = frozenset(
    {
        "is",
        "was",
        ":",
        "at",
        "of",
        "de",
        "es",
        "=",
        "del",
        "la",
        "the",
        "soil",
        "ground",
        "suelo",
        "tierra",
        "era",
        "esta",
        "fue",
    }
)


def deep_one(row: Row, place: int) -> tuple[Item, int] | None:
    """ "the deep one" names a probe and marks no depth."""
    named = row[place].kind == "deep" and (
        kind_at(row, place + 1) == "instrument" or text_at(row, place + 1) in ("one", "ones")
    )
    return (replace(row[place], kind="word"), 1) if named else None


def falling_leaves(row: Row, place: int) -> tuple[Item, int] | None:
    """ "hojas amarillas y se le estan cayendo": it is the leaves that fall, told before."""
    item = row[place]
    if item.kind != "falling":
        return None
    leaves = any(_LEAVES & {*before.text.split()} for before in row[max(0, place - _BACK_TO_LEAVES) : place])
    return (replace(item, kind="sign", value="leaf_drop") if leaves else replace(item, kind="word")), 1


_BACK_TO_LEAVES = 6
_LEAVES = {"hoja", "hojas", "leaf", "leafs", "leaves"}


def wholly(row: Row, place: int) -> tuple[Item, int] | None:
    """ "all droopy", "toda seca", "all the probes", "both the limes and the figs": all of what is named, and not every plot."""
    item = row[place]
    if item.kind != "all":
        return None
    after = place + 1
    while text_at(row, after) in _BETWEEN:
        after += 1
    counted = {"instrument", "method"} if item.text in _WHOLLY | _BOTH else set()
    paired = {"plot", "name"} if item.text in _BOTH and after > place + 1 else set()
    if kind_at(row, after) in counted | paired and (after > place + 1 or item.text in _WHOLLY):
        return replace(item, kind="word"), 1
    if item.text not in _WHOLLY:
        return None
    shown = kind_at(row, place + 1) in ("sign", "feel", "stage")
    told = {kind_at(row, place - back) for back in (1, 2)} & {"plot", "name", "ground", "reads", "interrogative"}
    return (replace(item, kind="word"), 1) if shown and told else None


_WHOLLY = words.named("wholly")


def out_of_ten(row: Row, place: int) -> tuple[Item, int] | None:
    """ "6 out of 10", "4 de 10": a hand meter's scale."""
    figure, after = at(row, place), place + 1
    if figure is None or figure.kind != "number" or not 0 <= figure.value <= 10:
        return None
    while text_at(row, after) in _OUT_OF:
        after += 1
    ten = at(row, after)
    if after == place + 1 or ten is None or ten.kind != "number" or ten.value != 10:
        return None
    return (
        None
        if starts_unit(row, after + 1)
        else (joined("quantity", Quantity("dial", figure.value), row[place : after + 1]), after + 1 - place)
    )


_OUT_OF = words.named("out_of")


def about(row: Row, place: int) -> tuple[Item, int] | None:
    """ "como 40", "hay 24 arboles" and "also have 3 lemons" ask nothing, and "i got 3 lemons" gives nothing."""
    figure, counted = kind_at(row, place + 1), kind_at(row, place + 2)
    asks = row[place].text in ("como", "hay", "have") and figure in ("number", "quantity")
    owns = row[place].text == "got" and figure == "number" and counted in ("name", "thing")
    return (replace(row[place], kind="word"), 1) if asks or owns else None


def to_the(row: Row, place: int) -> tuple[Item, int] | None:
    """ "2 mm a los tomates": without a figure after it the word tells to what, and no depth."""
    item, here = row[place], place + 1
    if item.kind != "at" or item.text.split()[0] != "a":
        return None
    here += text_at(row, here) in _BETWEEN
    told = kind_at(row, here) in ("plot", "name", "thing", "all")
    return (replace(item, kind="word", text="a"), 1) if told else None


def on_the_way(row: Row, place: int) -> tuple[Item, int] | None:
    """ "voy manejando", "ando recorriendo": what somebody is about now, and no plan."""
    doing = row[place].text in _GOING and text_at(row, place + 1).endswith(("ando", "endo"))
    return (replace(joined("word", None, row[place : place + 2]), text="voy andando"), 2) if doing else None


def soaked(row: Row, place: int) -> tuple[Item, int] | None:
    """ "basil dry, mint soaked": how a plot is, where nobody soaked it and no amount is told."""
    told = row[place].text == "soaked" and kind_at(row, place - 1) == "plot" and kind_at(row, place + 1) in ("", "mark")
    return (
        (replace(row[place], kind="feel", value="wet"), 1) if told and kind_at(row, place - 2) in ("", "mark") else None
    )


def so_that(row: Row, place: int) -> tuple[Item, int] | None:
    """ "asi que" links, and asks nothing."""
    linked = row[place].text == "asi" and text_at(row, place + 1) == "que"
    return (replace(joined("word", None, row[place : place + 2]), text="asi"), 2) if linked else None


_GOING = words.named("of_somebody_going")


def by_finger(row: Row, place: int) -> tuple[Item, int] | None:
    """A finger pushed in tells a depth to feel at, and is no rod."""
    near = row[place + 1 : place + 4]
    pushed = row[place].text in _PUSHED and any(item.text in _FINGERS for item in near)
    return (replace(row[place], text="dug"), 1) if pushed else None


def age(row: Row, place: int) -> tuple[Item, int] | None:
    """ "I'm 71", "cumpli 70 anos", "74 years old": how old somebody is, and no reading."""
    figure, after = row[place], text_at(row, place + 1)
    years = after in _YEARS
    if figure.kind != "number" or not _YOUNGEST <= figure.value <= _OLDEST:
        return None
    of_somebody = text_at(row, place - 1) in _SOMEBODY_IS
    has = text_at(row, place - 1) in ("tengo", "tiene", "tienen")  # "el maiz tiene 40" is a reading
    told = kind_at(row, place + 1) in ("", "mark", "date", "vague", "day") or after in _AFTER_AN_AGE
    if not (of_somebody and (years or (told and not has))):
        return None
    return joined("word", None, row[place : place + 1 + years]), 1 + years


_AFTER_AN_AGE = ("and", "y", "so", "but", "pero", "now", "ya")
_YEARS = ("years", "years old", "anos", "anos de edad", "year old")
_SOMEBODY_IS = words.named("somebody_is")
_YOUNGEST, _OLDEST = 12, 110


def aside(row: Row, place: int) -> tuple[Item, int] | None:
    """ "3 ft from the trunk": where it was, and neither how deep nor how much."""
    length = row[place]
    if length.kind != "quantity" or length.value.dimension != "length":
        return None
    here = place + 1 + (text_at(row, place + 1) in ("away", "out", "off"))
    target = here + 1 + (text_at(row, here + 1) in _BETWEEN)
    if text_at(row, here) != "from" or not (kind_at(row, target) in _STANDS or text_at(row, target) in _EDGES):
        return None
    return joined("filler", None, row[place : here + 1]), here + 1 - place


_STANDS = ("trunk", "thing", "plot", "name", "emitter")
_EDGES = words.named("edges")


def before_now(row: Row, place: int) -> tuple[Item, int] | None:
    """ "61, up from 40 last week": what a probe showed before, with its day, beside what it shows now."""
    turned = text_at(row, place) in _TURNED and text_at(row, place + 1) in ("from", "de", "desde")
    if not turned or kind_at(row, place + 2) not in ("number", "quantity") or kind_at(row, place + 3) == "to":
        return None
    used = 3 + (kind_at(row, place + 3) == "date")
    return joined("filler", None, row[place : place + used]), used


_TURNED = ("up", "down", "bajo", "subio", "bajando", "subiendo", "venia", "viene")


def lone_unit(row: Row, place: int) -> tuple[Item, int] | None:
    """The name of a unit with no figure: "go with inches"."""
    item = row[place]
    if item.kind != "word" or len(item.text) < 2 or item.text in ("in", "ha", "bar", "me", "mar"):
        return None
    term = matching(unit_forms(), row, place)
    if term is None:
        return None
    return joined("unit", term.value, row[place : place + len(term.words)]), len(term.words)
