"""The file of settings: what it may say, and that whatever can't be used is named."""

import re
from pathlib import Path

import pytest

from bot import config
from bot.errors import ConfigError


def written(folder: Path, text: str) -> Path:
    path = folder / "dropline.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_an_empty_file_is_a_line_with_what_comes_with_dropline(tmp_path: Path) -> None:
    settings = config.read(written(tmp_path, ""))
    assert settings.database == tmp_path / "dropline.sqlite"
    assert (settings.host, settings.port, settings.url) == ("127.0.0.1", 8080, "http://127.0.0.1:8080")
    assert settings.weather is None


def test_paths_begin_where_the_file_lies(tmp_path: Path) -> None:
    settings = config.read(written(tmp_path, 'database = "data/line.sqlite"\ntables = "rows"'))
    assert settings.database == tmp_path / "data" / "line.sqlite"
    assert settings.tables == tmp_path / "rows"


def test_the_office_is_named(tmp_path: Path) -> None:
    office = config.read(written(tmp_path, '[office]\nname = "Quail County water line"\nphone = "555-0142"')).office
    assert (office.name, office.phone) == ("Quail County water line", "555-0142")


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("database = 3", "database"),
        ("[http]\nport = 99999", "[http] port"),
        ("[http]\nprot = 80", "[http] prot"),
        ("[office]\nname = ''", "[office] name"),
        ("[office]\nplaces = 3", "[office] places"),
        ("office = 3", "office"),
        ("= nothing", "settings"),
        ('[http]\nurl = "water.example"', '[http] url must be how people reach the pages: "https://..."'),
        ('[[office.places]]\nname = "Dry Fork"', "[[office.places]] Dry Fork: it needs a name, and zip"),
        ('[[office.places]]\nzip = "74059"', "[[office.places]] None: it needs a name"),
    ],
)
def test_what_cannot_be_used_is_named(tmp_path: Path, text: str, named: str) -> None:
    with pytest.raises(ConfigError, match=re.escape(named)):
        config.read(written(tmp_path, text))


def test_a_setting_that_nobody_knows_is_named(tmp_path: Path) -> None:
    settings = config.read(written(tmp_path, 'databse = "x"'))
    settings.file.has("database")
    with pytest.raises(ConfigError, match=r"above the first table: databse: .* is database meant\?"):
        settings.file.done()


def test_a_secret_is_read_from_a_file_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "token").write_text("abc\n")
    section = config.read(written(tmp_path, '[telegram]\ntoken_file = "token"')).file.table("telegram")
    assert section.secret("token_file") == "abc"


@pytest.mark.parametrize("content", [None, "  \n"])
def test_a_secret_that_is_missing_or_empty_is_named_without_its_folder(tmp_path: Path, content: str | None) -> None:
    if content is not None:
        (tmp_path / "token").write_text(content)
    section = config.read(written(tmp_path, '[telegram]\ntoken_file = "token"')).file.table("telegram")
    with pytest.raises(ConfigError, match="token_file: token"):
        section.secret("token_file")


def test_what_is_missing_is_told_with_what_to_write(tmp_path: Path) -> None:
    section = config.read(written(tmp_path, "[telegram]")).file.table("telegram")
    with pytest.raises(ConfigError, match=re.escape('[telegram] token_file is missing: write token_file = "..."')):
        section.secret("token_file")
