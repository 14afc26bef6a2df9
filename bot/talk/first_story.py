"""What a first text tells in one breath besides what was read of it: the plant, the place, and how old the plant is.

Later texts are short and name one thing; the first is often a story, and what it told already must not be asked again.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from bot import places, understand
from bot.talk.setup import plain
from bot.talk.visit import Visit
from bot.understand.statements import Fact, Statement, Unclear
from rules import plants

# Five figures alone, and not so many ohms, gallons or dollars.
_ZIP = re.compile(r"(?<![\d$.,-])\d{5}(?![\d.,]*\d)(?!\s*(?:k?ohms?|gal|dollars|sq|ft|lb|cb|kpa|min))", re.IGNORECASE)
_YEAR = re.compile(
    r"\b(?:planted|put in|sembrad[oa]s?|plantad[oa]s?|sembre|plante)(?: in| back in| en| el)? ((?:19|20)\d\d)\b"
)
_AGE = re.compile(r"\b(\d{1,2}) (?:years?|yrs?|anos?)(?: old| de edad|$)")
_MOST_WORDS = 3
_MIDSUMMER = (7, 1)  # of a year that was told without a day
# Names of plants that are words of soils, days and people's talk as well.
_NEVER = frozenset({"loam", "clay", "sand", "date", "mint", "sage", "rose", "may"})


def completed(visit: Visit, text: str, statements: Sequence[Statement]) -> list[Statement]:
    """The statements of a text with the plant, place and age that it tells too, while nothing is known of the person."""
    if visit.plots():
        return list(statements)
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
    if not more:
        return list(statements)
    return [
        *more,
        *(each for each in statements if not isinstance(each, Unclear) or _says_more(each.text, name, place)),
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
            if plants.find(name, visit.language, visit.tables).how in ("exact", "ambiguous"):
                return name
    return None


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
