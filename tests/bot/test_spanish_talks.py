"""Whole conversations in Spanish: every reply is Spanish, fits the alphabet of SMS, and has the units of its person.

The people and their texts are invented; the way of writing (no accents, no marks, words of two languages) is how texts
to such a line are typed. That a verdict comes where the soil was told is what the line is for.
"""

import re
from datetime import date, datetime, timedelta

import pytest

from bot.line import Message, Office, open_line
from bot.word import gsm7

FIRST_DAY = datetime(2026, 7, 1, 8, 0)
# Words of the English sentences that are no Spanish word, nor one that Spanish gardeners text.
ENGLISH = frozenset((
    "the", "and", "your", "you", "water", "wait", "check", "today", "tomorrow", "yesterday", "saved", "taken",
    "back", "look", "again", "left", "limit", "soil", "text", "reply", "what", "where", "how", "dig", "skip",
    "undo", "why", "stop", "start", "help", "person", "done", "could", "read", "like", "need", "may", "plot",
    "rain", "with", "for", "of", "is", "it", "days", "holds", "roots", "used", "about",
))  # fmt: skip
IMPERIAL = re.compile(r"\d (?:pulg|pies|gal)\b|\d°?F\b")
METRIC = re.compile(r"\d (?:mm|cm|m2|L)\b|\d°?C\b")

TALKS = {
    "duraznos": (
        "us",
        [
            "duraznos 60 cb a 12 pulgadas",
            "saltar",
            "2",
            "aspersor",
            "porque",
            "regue los duraznos 6 horas el martes pasado",
            "llovio media pulgada anoche",
            "deshacer",
            "rehacer",
            "lista",
            "ayuda",
        ],
    ),
    "jitomates": (
        "metric",
        [
            "hola tengo jitomates con goteo",
            "saltar",
            "tierra franca",
            "les puse 20 mm ayer",
            "jitomates 45 cb a 30 cm",
            "cuanto les pongo",
            "por que",
            "no espera, eran 54",
            "la tierra de los jitomates esta seca a 15 cm",
            "olvidar",
        ],
    ),
    "aguacate": (
        "metric",
        [
            "tengo un aguacate en maceta de 40 litros",
            "saltar",
            "le eche 10 litros ayer",
            "la tierra esta bien seca a 15 cm",
            "cuanto le pongo",
            "140 por ciento a 20 cm",
            "-5 cm de lluvia",
            "me dio toques la bomba",
        ],
    ),
    "mango": (
        "metric",
        [
            "hola",
            "mango 60 cb a 30 cm",
            "saltar",
            "3",
            "prendi el agua",
            "apague",
            "mango 20 cb a 30 cm",
            "gracias",
            "ayuda",
        ],
    ),
    "zacate": (
        "us",
        [
            "mi zacate esta seco y lo riego con sprinklers, tiran 0.5 pulgadas por hora",
            "saltar",
            "barro",
            "le di 20 min ayer",
            "cuando riego otra vez",
            "persona",
            "qué 🌵 onda ½ «ñandú»",
        ],
    ),
}


def weather() -> dict[str, list[dict[str, object]]]:
    """Invented: dry and hot."""

    def day(on: date) -> dict[str, object]:
        return {"date": str(on), "tmax_c": 34.0, "tmin_c": 20.0, "rain_mm": 0.0, "et0_mm": 6.5, "pop": 0.1}

    first = FIRST_DAY.date()
    return {
        "past": [day(first - timedelta(days=back)) for back in range(30, 0, -1)],
        "forecast": [day(first + timedelta(days=ahead)) for ahead in range(10)],
    }


def talk(texts, channel="sms"):
    """All replies, turn by turn, a turn being five minutes after the one before; then STOP and one text more."""
    now = FIRST_DAY
    line = open_line(None, weather(), lambda: now, office=Office(name_es="Riego del condado"))
    replies = []
    for text in [*texts, "ALTO", "riego?"]:
        replies.append(line.receive(Message(channel=channel, sender="+15550100", text=text)))
        now += timedelta(minutes=5)
    return replies


@pytest.mark.parametrize("channel", ["sms", "telegram"])
@pytest.mark.parametrize("name", TALKS)
def test_no_reply_has_an_english_word(name, channel):
    for turn in talk(TALKS[name][1], channel):
        for reply in turn:
            assert reply.language == "es", reply.text
            assert not ENGLISH.intersection(re.findall(r"[a-záéíóúñü]+", reply.text.lower())), reply.text


@pytest.mark.parametrize("name", TALKS)
def test_every_text_message_is_in_its_alphabet_and_counted_right(name):
    for turn in talk(TALKS[name][1]):
        for reply in turn:
            assert gsm7.ALPHABET.issuperset(reply.text), reply.text
            assert reply.segments == gsm7.segments(reply.text) <= 2, reply.text


@pytest.mark.parametrize("name", TALKS)
def test_units_are_those_the_person_writes_in(name):
    units, texts = TALKS[name]
    other = IMPERIAL if units == "metric" else METRIC
    said = [reply.text for turn in talk(texts) for reply in turn]
    first = next(number for number, text in enumerate(said) if (METRIC if units == "metric" else IMPERIAL).search(text))
    assert not [text for text in said[first:] if other.search(text)]


@pytest.mark.parametrize("name", TALKS)
def test_there_is_a_verdict_on_the_way_and_silence_after_alto(name):
    turns = talk(TALKS[name][1])
    verdicts = [reply for turn in turns for reply in turn if reply.verdict]
    assert verdicts
    assert all(reply.text.startswith(("RIEGUE", "ESPERE", "REVISE")) for reply in verdicts)
    assert turns[-2][0].text.startswith("Listo")
    assert turns[-1] == []


def test_accents_are_written_where_the_channel_can_carry_them():
    said = " ".join(reply.text for turn in talk(TALKS["duraznos"][1], "telegram") for reply in turn)
    assert "raíz" in said
    assert "límite" in said
