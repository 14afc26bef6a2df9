"""One question: what is asked, its choices with their numbers, and what is taken when the person skips it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.word import catalogue, gsm7
from bot.word.voice import MOST, Part, Voice

# What is offered when the caller gives no choices of its own; ids as in the facts and readings that answer it.
CHOICES: dict[str, tuple[str, ...]] = {
    "soil": ("sand", "sandy_loam", "loam", "clay_loam", "clay", "by_feel"),
    "method": ("sprinkler", "drip", "soaker", "hose", "can", "flood"),
    "probe": ("tension", "resistance", "percent", "dial", "feel"),
    "quantity": ("tension", "percent", "minutes", "other"),
    "feel": ("wet", "moist", "slightly_moist", "dry"),
    "texture.ball": ("yes", "no"),
    "texture.why": ("too_dry", "too_wet", "falls_apart"),
    "texture.ribbon": ("no", "yes"),
    "texture.length": ("short", "medium", "long"),
    "texture.rub_short": ("gritty", "smooth", "neither"),
    "texture.rub_medium": ("gritty", "smooth", "neither"),
    "texture.rub_long": ("gritty", "smooth", "neither"),
}
# Facts that a question is about, by the id that the facts and the verdict use for them.
_ALIAS = {"root_depth_cm": "root_depth", "rate_mm_h": "rate", "probe_depth_cm": "depth", "reading": "feel"}
_NAMED_BY = {"feel": "hand"}
# People's own words, not ids of ours.
_OWN_WORDS = frozenset({"plot", "plant", "place", "which_place"})
# What is answered to questions that offer no choices and can't be skipped, by the keys of the words.
_ANSWERS = {
    "repeat": ("yes", "no"),
    "forget": ("forget.yes", "no"),
    "export": ("export.yes", "no"),
    "language": ("language.own.en", "language.own.es"),
}
# Examples of an answer: a round figure in either system.
_EXAMPLES = {
    True: {"example_mm_h": 12.7, "example_mm": 12.7, "example_litres": 37.85, "example_cm": 30.48, "check_cm": 15.24},
    False: {"example_mm_h": 12.0, "example_mm": 12.0, "example_litres": 40.0, "example_cm": 30.0, "check_cm": 15.0},
}
# Ribbon lengths that part the textures; table texture_by_feel, from memory of the chart.
_RIBBON = {"short_cm": 2.54, "long_cm": 5.08}


def choices(about: str) -> tuple[str, ...]:
    """Ids offered for this question when none are given, in the order of their numbers."""
    return CHOICES.get(_ALIAS.get(about, about), ())


def named(voice: Voice, about: str) -> tuple[str, ...]:
    """What the choices of a question are called, with the letters of those that have letters."""
    about = _ALIAS.get(about, about)
    names = [_named(voice, about, id_) for id_ in choices(about)]
    return (
        tuple(f"{mark} {name}" for mark, name in zip("ABCD", names, strict=True)) if about == "feel" else tuple(names)
    )


def answers(voice: Voice, about: str, offered: Sequence[str]) -> tuple[str, ...]:
    """What may be answered: the choices by their names, those of the caller or our own, and SKIP."""
    if about in _ANSWERS:
        return tuple(map(voice.say, _ANSWERS[about]))
    own = named(voice, about)
    theirs = tuple(_named(voice, about, each) for each in offered)
    return (*(own or theirs), voice.say("skip"))


def hand_cm(voice: Voice) -> float:
    """How deep the hand test digs where nothing says how deep, in cm."""
    return _EXAMPLES[voice.amounts.us]["check_cm"]


def question(
    voice: Voice,
    about: str,
    plot: str | None = None,
    offered: Sequence[str] = (),
    assumed: str | None = None,
    **values: Any,
) -> str:
    """One question with its choices numbered and the way round it.

    Args:
        about: what is asked: `soil`, `plant`, `place`, `plot`, ... or a node of the texture tree: `texture.ball`.
        plot: named in front, when there is more than one.
        offered: ids or names to choose from; without them those of `choices(about)`.
        assumed: what is taken when it is skipped, as the person would say it; without it what is usual.
        values: figures that the question names: `value` of a bare number, `check_cm`.
    """
    about = _ALIAS.get(about, about)
    if about == "place" and offered:
        about = "which_place"
    known = {**_EXAMPLES[voice.amounts.us], **values}
    skip = _skip(voice, about, assumed)
    room = MOST - gsm7.septets(skip) if voice.short else None
    asked = _asked(voice, about, tuple(offered) or choices(about), known, room)
    if plot and about != "plot":
        asked = voice.say("plot.about", plot=plot, text=asked)
    return voice.fit([Part(asked), Part(skip)], roomy=True)


def _asked(voice: Voice, about: str, offered: tuple[str, ...], known: dict[str, Any], room: int | None) -> str:
    """The question; names that there is no room for are left off its end, and can be typed."""
    key = _key(about)
    marks = "ABCD" if about == "feel" else range(1, len(offered) + 1)
    names = [_choice(voice, mark, _named(voice, about, id_)) for mark, id_ in zip(marks, offered, strict=False)]
    between = " / " if voice.roomy else ", "
    for count in range(len(names), -1, -1):
        shown = between.join(names[:count]) + ", .." * (count < len(names))
        asked = voice.say(key, **_needed(key, {**known, "choices": shown, "thing": voice.name("thing", about)}))
        if room is None or gsm7.septets(asked) <= room - 30:
            break
    return asked


def _choice(voice: Voice, mark: object, name: str) -> str:
    """A choice with its number, which nobody types where there are buttons; letters stay."""
    return name if voice.roomy and isinstance(mark, int) else voice.say("choice", mark=mark, name=name)


def _skip(voice: Voice, about: str, assumed: str | None) -> str:
    stem = about.split(".")[0]
    key = f"skip.{stem}" if catalogue.has(f"skip.{stem}") else "skip.thing"
    usual = "soil" if stem == "texture" else stem
    taken = assumed or (voice.say(f"usual.{usual}") if catalogue.has(f"usual.{usual}") else "")
    return voice.say(key, **_needed(key, {"assumed": taken}))


def _key(about: str) -> str:
    """The question's own sentence; `texture.rub_short` is asked like any `texture.rub`; else the one for any thing."""
    for key in (f"ask.{about}", f"ask.{about.split('_')[0]}"):
        if catalogue.has(key):
            return key
    return "ask.thing"


def _named(voice: Voice, about: str, id_: str) -> str:
    if about in _OWN_WORDS:
        return voice.value("words", id_)
    kind = _NAMED_BY.get(about, about.split(".")[0])
    return voice.name(kind, id_, **(_RIBBON if about == "texture.length" else {}))


def _needed(key: str, values: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in values.items() if name in catalogue.placeholders(key, catalogue.FALLBACK)}
