"""What to say to words that could not be read: no text is met with silence, and none with a reading that it did not hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.talk.dialogue import Dialogue
from bot.talk.replies import greeted
from bot.talk.setup import plain, yes_or_no
from bot.talk.visit import Visit

SHOWN = 60
_GREETINGS = frozenset(
    {"hi", "hello", "hey", "there", "good", "morning", "hola", "buenas", "buenos", "dias", "tardes", "noches"}
)
_THANKS = frozenset({"thanks", "thank", "thx", "ty", "gracias", "ok", "okay", "vale"})
_WHO = frozenset({"robot", "bot", "computer", "human", "computadora", "maquina", "persona"})
# What a person says out of kindness or joy, and waits for nothing.
_KIND_WORDS = re.compile(
    r"\b(?:god bless|bless you|sorry for|my apologies|how nice|(?:looks?|looking|doing) (?:fine|good|great|nice|happy|healthy)"
    r"|came up|sprouted|bloom\w*|bendiciones|dios (?:lo|la|le|te) bendiga|brotaron|perdon por"
    r"|se ven? (?:bien|bonit[oa]s?|lind[oa]s?))\b"
)
_STILL_TO_COME = frozenset({"tomorrow", "next", "manana", "proximo", "proxima"})
_DONE = ("water", "irrigat", "ran", "rain", "rego", "regu", "rieg", "llov")


def unread_part(visit: Visit, unclear: Sequence[str], text: str) -> None:
    """Say what of a message was not understood."""
    words = visit.words
    if not unclear:
        return
    if set(plain(text).split()) & _WHO:
        visit.say(words.hello(visit.office_name))
    elif yes_or_no(text):
        visit.say(words.say("unasked", example=words.example()))
    elif _to_come(text, visit.today.year):
        visit.say(words.say("future", words=unclear[0][:SHOWN]))
    elif _KIND_WORDS.search(plain(text)):
        visit.say(words.say("glad"))
    elif visit.draft.texts and not greeted(visit):
        return  # A first text may well begin with a word of greeting that says nothing of water.
    elif visit.draft.texts:
        visit.missed("unread", unclear[0])
        visit.say(words.say("unread.part", words=unclear[0][:SHOWN]))
    else:
        visit.missed("unread", text.strip())
        visit.say(words.say("unread", words=text.strip()[:SHOWN], example=words.example()))


def small_talk(visit: Visit, text: str) -> bool:
    """Whether a text is thanks or a plan: no question should follow it."""
    if _KIND_WORDS.search(plain(text)):
        return True
    return greeted(visit) and (bool(set(plain(text).split()) & _THANKS) or _to_come(text, visit.today.year))


def nothing_said(visit: Visit, text: str, skipped: bool) -> None:
    """Answer a message that came to nothing."""
    words, plots = visit.words, visit.plots()
    if not plain(text):
        visit.say(words.say("unread.empty", example=words.example()))
    elif skipped:
        visit.say(words.say("skipped"))
    elif yes_or_no(text):
        visit.say(words.say("unasked", example=words.example()))
    elif _to_come(text, visit.today.year):
        visit.say(words.say("plan"))
    elif set(plain(text).split()) & _THANKS:
        visit.say(words.say("thanks"))
    elif _KIND_WORDS.search(plain(text)):
        visit.say(words.say("glad"))
    elif set(plain(text).split()) <= _GREETINGS:
        visit.say(words.say("hello.back", example=words.example()))
    elif plots and all(plot.paused for plot in plots):
        visit.say(words.say("plot.paused", plot=plots[0].name))
    else:
        visit.missed("unread", text.strip())
        visit.say(words.say("unread", words=text.strip()[:SHOWN], example=words.example()))


def say_beside(visit: Visit, dialogue: Dialogue, about: str) -> None:
    """Answer what speaks of something else than how much water: `about` as `beside_the_job` has it."""
    kind, _, id_ = about.partition(".")
    if kind == "caution":
        visit.say(visit.words.caution(id_))
        if id_ == "salt":
            visit.call_person("salt")
        return
    if about == "hello":
        if greeted(visit):  # else the greeting says so before anything else
            visit.say(visit.words.say("hello", office=visit.office_name))
        return
    active = [plot for plot in visit.plots() if not plot.paused]
    if about == "broken_probe" and len(active) != 1:
        about = "broken_probe.several"
    visit.say(visit.words.say(about, phone=visit.office.phone))
    if about == "upset":
        visit.call_person("complaint")
    if about == "broken_probe":
        dialogue.ask_about("feel", active[0].name)


def _to_come(text: str, year: int) -> bool:
    """Whether words that were not understood tell of a watering or rain of a day to come."""
    said = plain(text).split()
    if not any(word.startswith(_DONE) for word in said):
        return False
    return bool(_STILL_TO_COME & set(said)) or any(word.isdigit() and year < int(word) < year + 100 for word in said)
