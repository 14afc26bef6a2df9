"""What is done each night: a backup, and the end of what is kept no longer. And how the disk and the backups are."""

from __future__ import annotations

import logging
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from threading import Event

from bot.config import Config, Section
from bot.errors import StoreError
from bot.store import Store
from bot.store.copies import copy
from bot.word.say import Words
from bot.workers import Health

log = logging.getLogger(__name__)

_AT_HOUR, _LOOK_EVERY_S = 3, 300.0
_LETTERS_KEPT = timedelta(days=30)
_TOO_OLD = timedelta(hours=36)
_TRY_AGAIN, _TELL_AGAIN = timedelta(hours=1), timedelta(days=1)
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


@dataclass(frozen=True)
class Failed:
    """A backup that failed: why, since when none was made, when it was tried last and when that was told last."""

    problem: str
    since: datetime
    tried: datetime
    told: datetime


class Keeping:
    """A worker for the night.

    Args:
        clock: the line's.
    """

    name = "keeping"

    def __init__(self, store: Store, settings: Config, rules: Rules, clock: Callable[[], datetime]) -> None:
        self._store, self._database, self._rules, self._clock = store, settings.database, rules, clock
        self._office = settings.office
        self._done_on: date | None = None
        self._failed: Failed | None = None

    def run(self, stop: Event) -> None:
        """Look again and again."""
        while not stop.is_set():
            self.look()
            stop.wait(_LOOK_EVERY_S)

    def look(self) -> None:
        """Each night once, and a backup at once when there is none of today or last night, or the last one failed an hour ago."""
        now = self._clock()
        if now.hour >= _AT_HOUR and self._done_on != now.date():
            self.night()
        elif self._due(now):
            self._back_up()

    def _due(self, now: datetime) -> bool:
        """Whether a backup is to be made before the night comes."""
        if self._failed:
            return now - self._failed.tried >= _TRY_AGAIN
        return self._backup_age() is None or self._is_old()

    def night(self) -> None:
        """What is done at night."""
        now = self._clock()
        self._done_on = now.date()
        plain = now.replace(tzinfo=None)
        self._store.outbox.drop_done(now - _LETTERS_KEPT)
        self._store.holdings.drop_locked_texts(plain.date(), plain)
        if self._rules.forget_after_days is not None:
            self._store.holdings.forget_silent(plain - timedelta(days=self._rules.forget_after_days), plain)
        self._back_up()

    def health(self) -> Health:
        """How old the backup is, and how much room the disk has."""
        usage = shutil.disk_usage(self._database.parent)
        free = f"{usage.free / 2**30:.1f} GB free"
        if self._failed:
            says = f"the backup failed: {self._failed.problem}. Is {self._rules.backups} there, and room on it?"
            return Health(part=self.name, well=False, says=says, since=self._failed.since)
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
        folder, now = self._rules.backups, self._clock()
        if folder is None:
            return
        try:
            copy(self._database, folder / f"dropline-{now:%Y-%m-%d}.sqlite")
            for old in self._backups()[: -self._rules.copies]:
                old.unlink(missing_ok=True)
        except (StoreError, OSError) as error:
            self._fell(str(error), now)
            return
        if self._failed:
            self._failed = None
            self._warn("backup.well", now)

    def _fell(self, problem: str, now: datetime) -> None:
        """Note that the backup failed, and tell those who keep the line, once a day."""
        log.error("the backup failed: %s", problem)
        before = self._failed
        told = before.told if before and now - before.told < _TELL_AGAIN else now
        self._failed = Failed(problem, before.since if before else now, now, told)
        if told == now:
            self._warn("backup.failed", now)

    def _warn(self, key: str, now: datetime) -> None:
        words = Words(channel="sms")
        text = words.say(key, office=self._office.called(words.language))
        for colleague in self._store.staff.to_warn():
            number = colleague.telephone or ""
            person = self._store.people.known("sms", number)
            if person is None or not person.stopped:  # who said STOP from that telephone meant it
                self._store.outbox.put("sms", number, text, at=now, kind="notice", person=person)

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
