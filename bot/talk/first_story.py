"""What a first text tells in one breath besides what was read of it: the plant, the place, and how old the plant is.

Later texts are short and name one thing; the first is often a story, and what it told already must not be asked again.
"""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from dataclasses import replace
from datetime import date

from bot import places, understand
from bot.record import ALL
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Fact, Reading, Sign, Statement, Unclear, Watering
from rules import plants

# Five figures alone, and not so many ohms, gallons or dollars.
_ZIP = re.compile(r"(?<![\d$.,-])\d{5}(?![\d.,]*\d)(?!\s*(?:k?ohms?|gal|dollars|sq|ft|lb|cb|kpa|min))", re.IGNORECASE)
_YEAR = re.compile(
    r"\b(?:planted|put in|sembrad[oa]s?|plantad[oa]s?|sembre|plante)(?: in| back in| en| el)? ((?:19|20)\d\d)\b"
)
_AGE = re.compile(r"\b(\d{1,2}) (?:years?|yrs?|anos?)(?: old| de edad|$)")
_MOST_WORDS = 3
_MIDSUMMER = (7, 1)  # of a year that was told without a day
_OF_PERSON = ("place", "language", "units")
_SENTENCES = re.compile(r"[.;!?\n]+")
_PARTS = re.compile(r"[,.;!?\n]+")
_BETWEEN = re.compile(r"[,:&+]| and | plus | y | e ", re.IGNORECASE)
_OF_OTHERS = re.compile(
    r"\b(?:near|next to|beside|between|behind|neighbou?rs?|no|not|like|cerca|junto|vecin[oa]s?|como)\b"
)
# Names of plants that are words of soils, days and people's talk as well.
_NEVER = frozenset({"loam", "clay", "sand", "date", "mint", "sage", "rose", "may"})


def completed(visit: Visit, text: str, statements: Sequence[Statement]) -> list[Statement]:
    """The statements of a text with the plant, place and age that it tells too, while nothing is known of the person."""
    if visit.plots():
        return list(statements)
    statements = _of_all_listed(visit, text, statements)
    told = {each.about for each in statements if isinstance(each, Fact)}
    named = any(getattr(each, "plot", None) for each in statements)
    more: list[Statement] = []
    name = None if named or told & {"new_plot", "plant"} else _plant_named(visit, text)
    if name:
        more.append(Fact(about="new_plot", value=name, plot=name))
    place = None if "place" in told or visit.person.latitude is not None else _place(visit, text)
    if place:
        more.append(Fact(about="place", value=place))
    planted = None if "planted_on" in told or not (name or named) else _planted_on(text, visit.today)
    if planted:
        more.append(Fact(about="planted_on", value=planted.isoformat()))
    if "soil" not in told:
        more += _soil(visit, statements)
    told |= {each.about for each in more if isinstance(each, Fact)}
    parts = _short_parts(visit, text, told, ALL if name or named else None)
    if not more and not parts:
        return list(statements)
    return [
        *more,
        *(each for each in statements if not isinstance(each, Unclear) or _says_more(each.text, name, place)),
        *parts,
    ]


def _plant_named(visit: Visit, text: str) -> str | None:
    """The first whole name of a plant among the words, the longest there."""
    words = plain(text).split()
    for start in (place for place, word in enumerate(words) if word not in _SMALL):
        for length in range(min(_MOST_WORDS, len(words) - start), 0, -1):
            named = words[start : start + length]
            name = " ".join(named)
            if name in _NEVER or named[-1] in _SMALL or any(map(str.isdigit, named)):
                continue
            found = plants.find(name, visit.language, visit.tables)
            if found.how in ("exact", "ambiguous"):
                kind = plants.find("".join(words[start + length : start + length + 1]), visit.language, visit.tables)
                same = kind.how == "exact" and kind.plant == found.plant
                return f"{name} {words[start + length]}" if same else name
    return None


def _of_all_listed(visit: Visit, text: str, statements: Sequence[Statement]) -> list[Statement]:
    """The statements with a plot for each plant of a list: "we have beans, squash and lettuce". What is told is of all of them."""
    named = {plot for each in statements if (plot := getattr(each, "plot", None)) not in (None, ALL)}
    listed = next((names for part in _SENTENCES.split(text) if len(names := _plants_listed(visit, part)) > 1), [])
    about = [each.about for each in statements if isinstance(each, Fact)]
    told = any(isinstance(each, Reading | Watering | Sign) for each in statements)
    if not listed or told or len(named) > 1 or not named <= set(listed) or "new_plot" in about:
        return list(statements)
    plots = [Fact(about="new_plot", value=name, plot=name) for name in listed]
    rest = [each for each in statements if not (isinstance(each, Fact) and each.about == "plant")]
    return [
        *plots,
        *(
            replace(each, plot=ALL) if isinstance(each, Fact) and each.about not in _OF_PERSON else each
            for each in rest
        ),
    ]


def _plants_listed(visit: Visit, sentence: str) -> list[str]:
    names = (_plant_named(visit, part) for part in _BETWEEN.split(sentence) if not _OF_OTHERS.search(plain(part)))
    return list(dict.fromkeys(name for name in names if name))


def _short_parts(visit: Visit, text: str, told: Container[str], plot: str | None) -> list[Statement]:
    """The soil, place and way of watering among short parts between commas, where the whole was not read so far."""
    found: dict[str, Statement] = {}
    for part in _PARTS.split(text):
        words = plain(part).split()
        if not 1 <= len(words) <= _MOST_WORDS:
            continue
        if len(words) > 1 and len(places.find(part.strip(), visit.office.places)) == 1:
            found.setdefault("place", Fact(about="place", value=part.strip()))
            continue
        for fact in understand.read(part, visit.context(None)).statements:
            if isinstance(fact, Fact) and fact.about in ("soil", "method"):
                found.setdefault(fact.about, replace(fact, plot=plot))
    return [fact for about, fact in found.items() if about not in told]


def _soil(visit: Visit, statements: Sequence[Statement]) -> list[Statement]:
    """A soil at the end of a part that was not read: "... 6 years old on sandy loam"."""
    tails = [
        each.text.rpartition(" on ")[2] for each in statements if isinstance(each, Unclear) and " on " in each.text
    ]
    read = [fact for tail in tails for fact in understand.read(tail, visit.context(None)).statements]
    soils: list[Statement] = [fact for fact in read if isinstance(fact, Fact) and fact.about == "soil"]
    return soils[:1]


def _place(visit: Visit, text: str) -> str | None:
    """The one ZIP code in the text, else the one place of the office that it names."""
    codes = [code for code in _ZIP.findall(text) if places.find(code, visit.office.places)]
    names = [str(place.get("name") or "") for place in visit.office.places]
    named = [name for name in names if plain(name) and f" {plain(name)} " in f" {plain(text)} "]
    found = codes or named
    return found[0] if len(found) == 1 else None


def _planted_on(text: str, today: date) -> date | None:
    """The middle of the year that was told, or so many years ago."""
    said = plain(text)
    year, age = _YEAR.search(said), _AGE.search(said)
    told = int(year[1]) if year else today.year - int(age[1]) if age else None
    return date(told, *_MIDSUMMER) if told is not None and told < today.year else None


def _says_more(unclear: str, name: str | None, place: str | None) -> bool:
    """Whether an unread part tells more than what was taken up here."""
    said = _AGE.sub("", _YEAR.sub("", plain(unclear)))
    rest = said.replace(name or " ", " ").replace(place or " ", " ").split()
    return len([word for word in rest if word not in _SMALL]) > 1


_SMALL = frozenset({
    "at", "in", "on", "near", "and", "my", "the", "our", "a", "an", "of", "zip", "code", "we", "live", "have", "new", "with", "has",
    "en", "el", "la", "los", "las", "mi", "mis", "de", "y", "vivo", "un", "una", "tengo",
})  # fmt: skip
