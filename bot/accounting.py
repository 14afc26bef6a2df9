"""Accounts made at the machine itself: the first one has nobody who could make it on a page."""

from __future__ import annotations

from pathlib import Path

from bot import config, wire
from bot.errors import ConfigError, StoreError
from bot.office.passwords import hashed, problem
from bot.store import open_store


def add_account(settings: Path, name: str, role: str, password: str) -> None:
    """Make an account in the store of these settings.

    Raises: ConfigError, for a password that is too easy or a name that is taken; StoreError.
    """
    if wrong := problem(password, name):
        raise ConfigError(wrong)
    store = open_store(config.read(settings).database)
    try:
        with store.transaction():
            store.staff.add(name, role, hashed(password), at=wire.now())
            store.deeds.add("the machine's operator", "made an account", wire.now(), detail=f"{name}, {role}")
    except StoreError as error:
        raise ConfigError(f"there is, or was, an account named {name}") from error
    finally:
        store.close()
