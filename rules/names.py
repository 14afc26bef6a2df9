"""Names of soils, plants and stages as people write them: found whole, inside a phrase, or nearly."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz, process

# Likeness from which a slip of the pen is believed, in percent of letters; short words must be nearly whole (our
# judgement, tried on the misspellings of plants.csv).
_LIKE = 82.0
_LIKE_SHORT = 88.0
_SHORT = 5


def plain(text: str) -> str:
    """A name without accents, case and punctuation, as it is compared."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return " ".join(re.findall(r"[a-z0-9]+", bare))


def singulars(name: str) -> list[str]:
    """A plain name, and what it may be the plural of in English or Spanish: `duraznos`, `peaches`, `nueces`."""
    found = [name]
    for plural, single in (("ies", "y"), ("ces", "z"), ("oes", "o"), ("es", ""), ("s", "")):
        if name.endswith(plural) and len(name) > len(plural) + 2:
            found.append(name.removesuffix(plural) + single)
    return found


@dataclass(frozen=True, eq=False)
class Names:
    """Plain names of one table in one language, each with the ids it may mean."""

    ids: Mapping[str, tuple[str, ...]]

    def whole(self, name: str) -> tuple[str, ...]:
        """Ids of a name as it stands or in the singular."""
        return next((self.ids[single] for single in singulars(plain(name)) if single in self.ids), ())

    def within(self, phrase: str) -> tuple[str, ...]:
        """Ids of the longest name among the words of a phrase; of two as long, the later."""
        said = plain(phrase).split()
        for length in range(len(said), 0, -1):
            for start in range(len(said) - length, -1, -1):
                found = self.whole(" ".join(said[start : start + length]))
                if found:
                    return found
        return ()

    def nearest(self, name: str, limit: int, cutoff: float | None = None) -> list[tuple[str, float]]:
        """Ids that look like a name, likest first, with the likeness in percent; by default only slips of the pen."""
        said = plain(name)
        least = cutoff if cutoff is not None else _LIKE_SHORT if len(said) < _SHORT else _LIKE
        hits = process.extract(said, list(self.ids), scorer=fuzz.ratio, limit=4 * limit, score_cutoff=least)
        best: dict[str, float] = {}
        for known, score, _ in hits:
            for key in self.ids[known]:
                best.setdefault(key, score)
        return list(best.items())[:limit]


def names(entries: Iterable[tuple[str, Iterable[str]]]) -> Names:
    """Names from pairs of an id and what it is called."""
    ids: dict[str, list[str]] = {}
    for key, called in entries:
        for name in called:
            known = ids.setdefault(plain(name), [])
            if name and key not in known:
                known.append(key)
    return Names({name: tuple(keys) for name, keys in ids.items() if name})
