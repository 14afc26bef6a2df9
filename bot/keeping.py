"""What is done each night: a backup, and the end of what is kept no longer. And how the disk and the backups are."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from threading import Event

from bot.config import Config, Section
from bot.store import Store
from bot.store.copies import copy
from bot.workers import Health

_AT_HOUR, _LOOK_EVERY_S = 3, 300.0
_LETTERS_KEPT = timedelta(days=30)
_TOO_OLD = timedelta(hours=36)
_LEAST_FREE, _LEAST_FREE_SHARE = 500 * 2**20, 0.05


@dataclass(frozen=True, kw_only=True)
class Rules:
    """What the settings say in `[keeping]`.

    Args:
        backups: the folder of the nightly backups; None: none are made. Best one of another machine.
        copies: how many nights are kept.
        forget_after_days: people who were silent for so long are erased; None: never.
    """

    backups: Path | None = None
    copies: int = 14
    forget_after_days: int | None = None


def rules(section: Section) -> Rules:
    """The rules out of the settings. Raises: ConfigError."""
    found = Rules(
        backups=section.path_or_none("backups"),
        copies=section.whole("copies", 14, least=1, most=1000),
        forget_after_days=section.whole("forget_after_days", least=30) if section.has("forget_after_days") else None,
    )
    section.done()
    return found


class Keeping:
    """A worker for the night.

    Args:
        clock: the line's.
    """

    name = "keeping"

    def __init__(self, store: Store, settings: Config, rules: Rules, clock: Callable[[], datetime]) -> None:
        self._store, self._database, self._rules, self._clock = store, settings.database, rules, clock
        self._done_on: date | None = None

    def run(self, stop: Event) -> None:
        """Each night once, and the backup at once when there is none of today or last night."""
        if self._backup_age() is None or self._is_old():
            self._back_up()
        while not stop.wait(_LOOK_EVERY_S):
            now = self._clock()
            if now.hour >= _AT_HOUR and self._done_on != now.date():
                self.night()

    def night(self) -> None:
        """What is done at night."""
        now = self._clock()
        plain = now.replace(tzinfo=None)
        self._store.outbox.drop_done(now - _LETTERS_KEPT)
        self._store.holdings.drop_locked_texts(plain.date(), plain)
        if self._rules.forget_after_days is not None:
            self._store.holdings.forget_silent(plain - timedelta(days=self._rules.forget_after_days), plain)
        self._back_up()
        self._done_on = now.date()

    def health(self) -> Health:
        """How old the backup is, and how much room the disk has."""
        usage = shutil.disk_usage(self._database.parent)
        free = f"{usage.free / 2**30:.1f} GB free"
        if usage.free < _LEAST_FREE or usage.free < _LEAST_FREE_SHARE * usage.total:
            return Health(part=self.name, well=False, says=f"the disk is nearly full: {free}. Make room.")
        if self._rules.backups is None:
            return Health(part=self.name, well=True, says=f"{free}; no backups are set: write [keeping] backups")
        age = self._backup_age()
        if age is None or self._is_old():
            told = "there is none" if age is None else f"the last is {age.total_seconds() / 3600:.0f} hours old"
            return Health(part=self.name, well=False, says=f"no fresh backup: {told}. Is {self._rules.backups} there?")
        return Health(part=self.name, well=True, says=f"{free}; backed up", since=self._clock() - age)

    def _back_up(self) -> None:
        folder = self._rules.backups
        if folder is None:
            return
        copy(self._database, folder / f"dropline-{self._clock():%Y-%m-%d}.sqlite")
        for old in self._backups()[: -self._rules.copies]:
            old.unlink(missing_ok=True)

    def _backups(self) -> list[Path]:
        return sorted(self._rules.backups.glob("dropline-????-??-??.sqlite")) if self._rules.backups else []

    def _backup_age(self) -> timedelta | None:
        found = self._backups()
        if not found:
            return None
        return timedelta(seconds=max(self._clock().timestamp() - found[-1].stat().st_mtime, 0))

    def _is_old(self) -> bool:
        age = self._backup_age()
        return self._rules.backups is not None and age is not None and age > _TOO_OLD
