"""Every sentence in every language, with the same values, short enough, and each one that is called for is there."""

import ast
from pathlib import Path

import pytest

from bot.word import catalogue, gsm7
from bot.word.amounts import number
from bot.word.catalogue import FALLBACK, LANGUAGES
from bot.word.cautions import cautions
from rules.tables import base

KEYS = sorted(catalogue.keys(FALLBACK))
BOT = Path(catalogue.__file__).parents[1]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_every_sentence(language):
    assert catalogue.keys(language) == catalogue.keys(FALLBACK)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("key", KEYS)
def test_a_sentence_names_the_same_values_in_every_language(key, language):
    assert catalogue.placeholders(key, language) == catalogue.placeholders(key, FALLBACK)


def test_a_missing_language_speaks_english():
    assert catalogue.text("plot.unnamed", "pt") == "your plot"
    assert catalogue.text("held.plots", "pt", n=2) == "2 plots"


def test_a_missing_sentence_is_english_in_the_other_language(monkeypatch):
    monkeypatch.setattr(
        catalogue, "_sentences", lambda language: {"en": {"greeting": ("hi {name}",)}}.get(language, {})
    )
    assert catalogue.text("greeting", "es", name="Ana") == "hi Ana"


def test_a_key_that_nobody_has_is_an_error():
    with pytest.raises(KeyError):
        catalogue.text("no.such.key", "es")


@pytest.mark.parametrize(("n", "said"), [(1, "1 riego"), (2, "2 riegos"), (0, "0 riegos")])
def test_plural_forms_follow_the_number(n, said):
    assert catalogue.text("season.waterings", "es", n=n) == said


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("key", KEYS)
def test_a_sentence_by_itself_fits_one_text_message(key, language):
    """With each value a word of twelve letters."""
    for form in catalogue.forms(key, language):
        said = form.format(**dict.fromkeys(catalogue.placeholders(key, language), "x" * 12))
        assert gsm7.segments(gsm7.fold(said)) == 1, (gsm7.septets(gsm7.fold(said)), said)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_caution_has_its_sentence_and_its_values(language):
    spoken = {key.removeprefix("caution.") for key in KEYS if key.startswith("caution.")}
    assert spoken == set(cautions())
    for id_, caution in cautions().items():
        assert catalogue.placeholders(f"caution.{id_}", language) == set(caution.values)
        assert caution.rank in (1, 2, 3)
        assert caution.source


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_soil_of_the_table_has_a_name(language):
    assert {f"soil.{soil}" for soil in base().soils} <= catalogue.keys(language)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_step_and_answer_of_the_texture_tree_is_worded(language):
    for step in base().texture_by_feel:
        node, answer = step.split(".")
        assert f"texture.{answer}" in catalogue.keys(language)
        assert f"ask.texture.{node.split('_')[0]}" in catalogue.keys(language)


@pytest.mark.parametrize("path", sorted(BOT.rglob("*.py")), ids=lambda path: path.relative_to(BOT).as_posix())
def test_every_sentence_that_is_called_by_name_exists_and_gets_its_values(path):
    for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Attribute) and call.func.attr == "say"):
            continue
        if not (call.args and isinstance(call.args[0], ast.Constant)):
            continue
        key, given = call.args[0].value, {word.arg for word in call.keywords}
        assert key in KEYS, f"{path.name}, line {call.lineno}"
        assert None in given or given == catalogue.placeholders(key, FALLBACK), f"{path.name}, line {call.lineno}"


def test_numbers_have_no_idle_zeros():
    assert [number(value, 2) for value in (0.5, 2.0, 0.754, -0.001, 12345.0)] == ["0.5", "2", "0.75", "0", "12,345"]
