"""The office's one file of settings, in TOML. Whatever can't be used is told with its place and what to write instead."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from bot import places
from bot.errors import ConfigError
from bot.talk.visit import Office

# Sent to the weather services, who ask who is calling.
_CONTACT = "an office's dropline; contact its operator"


class Section:
    """One table of the file. Each key is asked for once; `done` complains of keys that nobody asked for.

    Args:
        name: as in the file, for messages; empty: the part above all tables.
        folder: where relative paths begin.
    """

    def __init__(self, name: str, values: Mapping[str, Any], folder: Path) -> None:
        self._name, self._values, self._folder = name, values, folder
        self._place = f"[{name}]" if name else "above the first table:"
        self._asked: set[str] = set()

    def text(self, key: str, default: str | None = None) -> str:
        """A text that is not empty. Raises: ConfigError."""
        value = self._value(key, default)
        if not isinstance(value, str) or not value.strip():
            raise ConfigError(f"{self._place} {key} must be a text in quotes")
        return value

    def choice(self, key: str, choices: tuple[str, ...]) -> str:
        """One of these words; the first where nothing is written. Raises: ConfigError."""
        value = self.text(key, choices[0])
        if value not in choices:
            raise ConfigError(f"{self._place} {key} must be one of {', '.join(choices)}")
        return value

    def whole(self, key: str, default: int | None = None, *, least: int = 0, most: int = 10**9) -> int:
        """A whole number. Raises: ConfigError."""
        value = self._value(key, default)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise ConfigError(f"{self._place} {key} must be a whole number from {least} to {most}")
        return value

    def path(self, key: str, default: str | None = None) -> Path:
        """A path, relative to the file of settings. Raises: ConfigError."""
        return self._folder / Path(self.text(key, default)).expanduser()

    def path_or_none(self, key: str) -> Path | None:
        """A path where one is written. Raises: ConfigError."""
        return self.path(key) if self.has(key) else None

    def secret(self, key: str) -> str:
        """What stands in the file that `key` names: a secret has no place among the settings. Raises: ConfigError."""
        path = self.path(key)
        try:
            found = path.read_text(encoding="utf-8").strip()
        except (OSError, UnicodeError) as error:
            raise ConfigError(f"{self._place} {key}: {path.name} can't be read: {error}") from error
        if not found:
            raise ConfigError(f"{self._place} {key}: {path.name} is empty")
        return found

    def table(self, key: str) -> Section:
        """A table within this one; empty where it is not written. Raises: ConfigError."""
        value = self._value(key, {})
        if not isinstance(value, Mapping):
            raise ConfigError(f"{self._place} {key} must be a table: [{self._table(key)}], and its settings below")
        return Section(self._table(key), value, self._folder)

    def tables(self, key: str) -> list[dict[str, Any]]:
        """A list of tables as they stand. Raises: ConfigError."""
        value = self._value(key, [])
        if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
            raise ConfigError(f"{self._place} {key} must be a list of tables: [[{self._table(key)}]]")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; empty where it is not written. Raises: ConfigError."""
        value = self._value(key, [])
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise ConfigError(f"{self._place} {key} must be a list of texts in quotes")
        return tuple(value)

    def named_texts(self, key: str) -> dict[str, str]:
        """A table of texts under names of the office's own choice; empty where it is not written. Raises: ConfigError."""
        value = self._value(key, {})
        if not isinstance(value, Mapping) or not all(isinstance(each, str) for each in value.values()):
            raise ConfigError(f"[{self._name}.{key}] must hold texts in quotes")
        return dict(value)

    def has(self, key: str) -> bool:
        """Whether the key is written."""
        self._asked.add(key)
        return key in self._values

    def done(self) -> None:
        """All keys of this table were asked for. Raises: ConfigError, naming one that nobody knows."""
        for key in sorted(self._values.keys() - self._asked):
            near = get_close_matches(key, self._asked, 1)
            told = f"; is {near[0]} meant?" if near else ""
            raise ConfigError(f"{self._place} {key}: there is no such setting{told}")

    def _table(self, key: str) -> str:
        return f"{self._name}.{key}".removeprefix(".")

    def _value(self, key: str, default: Any) -> Any:
        self._asked.add(key)
        value = self._values.get(key, default)
        if value is None:
            raise ConfigError(f'{self._place} {key} is missing: write {key} = "..."')
        return value


@dataclass(frozen=True, kw_only=True)
class Config:
    """What every line needs. The channels read their own tables of the file.

    Args:
        url: where the office's pages are reached from outside, without a slash at the end.
        public: whether `url` is written, so that links may be texted.
        weather: a file of weather in place of the public services.
    """

    database: Path
    office: Office
    tables: Path | None
    weather: Path | None
    contact: str
    url: str
    public: bool
    host: str
    port: int
    file: Section


def read(path: Path) -> Config:
    """The settings in this file.

    Raises: ConfigError.
    """
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ConfigError(f"{path} can't be read as settings: {error}") from error
    file = Section("", values, path.resolve().parent)
    http = file.table("http")
    port = http.whole("port", 8080, least=0, most=65535)
    config = Config(
        database=file.path("database", "dropline.sqlite"),
        office=_office(file.table("office")),
        tables=file.path_or_none("tables"),
        weather=file.path_or_none("weather"),
        contact=file.text("contact", _CONTACT),
        url=_url(http.text("url", f"http://127.0.0.1:{port}")),
        public=http.has("url"),
        host=http.text("host", "127.0.0.1"),
        port=port,
        file=file,
    )
    http.done()
    return config


def _url(written: str) -> str:
    if not urlsplit(written).hostname or urlsplit(written).scheme not in ("http", "https"):
        raise ConfigError('[http] url must be how people reach the pages: "https://..."')
    return written.rstrip("/")


def _office(section: Section) -> Office:
    office = Office(
        name=section.text("name", Office.name),
        name_es=section.text("name_es", section.text("name", Office.name_es)),
        phone=section.text("phone", Office.phone),
        places=tuple(map(_known, section.tables("places"))),
        keep_texts_days=section.whole("keep_texts_days", least=1) if section.has("keep_texts_days") else None,
    )
    section.done()
    return office


def _known(place: dict[str, Any]) -> dict[str, Any]:
    if not places.is_place(place):
        name = place.get("name")
        raise ConfigError(f'[[office.places]] {name}: it needs a name, and zip = "..." or latitude and longitude')
    return place
