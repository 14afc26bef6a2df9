"""How hard the catalogue is to read, measured over all its whole sentences together, as the formulas are made for.

English: Kincaid et al. 1975, grade = 0.39 words/sentence + 11.8 syllables/word - 15.59. Spanish: Fernández Huerta 1959,
206.84 - 60 syllables/word - 1.02 words/sentence. The limits (grade 6, 70) are the project's own. Both from memory.
"""

import re

import pytest

from bot.word import catalogue

_VALUE = re.compile(r"\{\w+\}")


def text_of(language: str) -> str:
    """Every form that ends as a sentence; a value counts as one short word."""
    forms = (form for key in sorted(catalogue.keys(language)) for form in catalogue.forms(key, language))
    return " ".join(_VALUE.sub("ten", form) for form in forms if form.endswith((".", "?", "!")))


def words(text: str) -> list[str]:
    return re.findall(r"[a-záéíóúüñ']+", text.lower())


def sentences(text: str) -> int:
    return len(re.findall(r"[.?!]+(?=\s|$)", text))


def english_syllables(word: str) -> int:
    groups = len(re.findall(r"[aeiouy]+", word))
    silent = word.endswith("e") and not word.endswith(("le", "ee")) and groups > 1
    return max(groups - silent, 1)


def spanish_syllables(word: str) -> int:
    """Nuclei: a weak vowel joins its strong neighbour unless it bears the accent; two strong ones part."""
    sounded = re.sub(r"(?<=[gq])u(?=[eéií])", "", word)
    return max(len(re.findall(r"[iuü]?[aeoáéó][iuü]?|[íú]|[iuü]+|y$|^y$", sounded)), 1)


@pytest.mark.parametrize(
    ("word", "count"),
    [("water", 2), ("soil", 1), ("centibars", 3), ("puddle", 2), ("take", 1), ("the", 1), ("tree", 1)],
)
def test_english_syllables(word, count):
    assert english_syllables(word) == count


@pytest.mark.parametrize(
    ("word", "count"),
    [("riegue", 2), ("espere", 3), ("tierra", 2), ("raíz", 2), ("lluvia", 2), ("agua", 2), ("húmedo", 3),
     ("aguanta", 3), ("línea", 3), ("quede", 2), ("y", 1), ("oeste", 3)],
)  # fmt: skip
def test_spanish_syllables(word, count):
    assert spanish_syllables(word) == count


def english_grade(text: str) -> float:
    spoken = words(text)
    syllables = sum(map(english_syllables, spoken))
    return 0.39 * len(spoken) / sentences(text) + 11.8 * syllables / len(spoken) - 15.59


def spanish_ease(text: str) -> float:
    spoken = words(text)
    return 206.84 - 60 * sum(map(spanish_syllables, spoken)) / len(spoken) - 1.02 * len(spoken) / sentences(text)


def test_english_is_at_most_sixth_grade():
    assert english_grade(text_of("en")) <= 6


def test_spanish_is_easy():
    assert spanish_ease(text_of("es")) >= 70


def test_the_measures_tell_hard_from_easy():
    hard = "Evapotranspiration considerations necessitate comprehensive reevaluation of irrigation methodologies."
    duro = (
        "La evapotranspiración extraordinaria imposibilita determinaciones agronómicas suficientemente representativas."
    )
    assert english_grade(hard) > 12
    assert spanish_ease(duro) < 0
