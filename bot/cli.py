"""The command `dropline`: it reads arguments, joins the parts, and prints."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from bot.errors import BotError, ConfigError
from bot.replay import played


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; its exit code."""
    parser = _parser()
    options = parser.parse_args(arguments)
    try:
        code: int = options.run(options)
    except BotError as error:
        print(f"dropline: {error}", file=sys.stderr)  # noqa: T201 - the command line's own voice
        return 2
    except (BrokenPipeError, KeyboardInterrupt):
        return 130
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="dropline", description="A help line that answers WATER or WAIT by text.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    chat = commands.add_parser("chat", help="talk with the line in this terminal")
    chat.add_argument("--database", type=Path, help="SQLite file (default: in your data folder)")
    chat.add_argument("--weather", type=Path, help="JSON file of weather instead of the public services")
    chat.add_argument("--from", dest="sender", default="you", help="who is texting")
    chat.add_argument("--language", choices=("en", "es"))
    chat.add_argument("--units", choices=("us", "metric"))
    chat.add_argument("--tables", type=Path, help="folder with the office's own rows of soils.csv, plants.csv, ...")
    chat.set_defaults(run=_chat)

    demo = commands.add_parser("demo", help="play an invented month in an invented county")
    demo.set_defaults(run=_demo)

    replay = commands.add_parser("replay", help="play a conversation from a file in a fresh store")
    replay.add_argument("file", type=Path)
    replay.add_argument("--json", action="store_true", help="one JSON object a reply")
    replay.add_argument("--state", action="store_true", help="with --json: what the store holds after each turn")
    replay.set_defaults(run=_replay)

    serve = commands.add_parser("serve", help="run the line: its channels and pages, in one process")
    serve.add_argument("--config", type=Path, required=True, help="the office's settings, a TOML file")
    serve.set_defaults(run=_serve)

    _add_keeping(commands)

    parse = commands.add_parser("parse", help="read messages: JSON lines in, JSON lines out")
    parse.set_defaults(run=_parse)
    return parser


def _add_keeping(commands: Any) -> None:
    """What an operator does to the store of an office."""
    staff = commands.add_parser("staff", help="accounts for the office's pages").add_subparsers(
        required=True, metavar="DO"
    )
    add = staff.add_parser("add", help="make an account; asks for the password, or reads it from standard input")
    add.add_argument("name")
    add.add_argument("--role", choices=("helper", "specialist", "keeper"), required=True)
    add.add_argument("--config", type=Path, required=True, help="the office's settings, a TOML file")
    add.set_defaults(run=_staff_add)

    for name, told, other in (
        ("backup", "copy the whole store into another file, while the line runs", "target"),
        ("restore", "put a backup in the place of the store, while the line runs", "source"),
    ):
        command = commands.add_parser(name, help=told)
        command.add_argument(other, type=Path)
        command.add_argument("--config", type=Path, required=True, help="the office's settings, a TOML file")
        command.set_defaults(run=_backup if name == "backup" else _restore)


def _chat(options: argparse.Namespace) -> int:
    from bot.channels.console import chat
    from bot.wire import console_line

    line = console_line(options.database, options.weather, options.tables)
    line.know("console", options.sender, language=options.language, units=options.units)
    chat(line.receive, options.sender)
    return 0


def _serve(options: argparse.Namespace) -> int:
    from bot.serve import serve

    return serve(options.config)


def _staff_add(options: argparse.Namespace) -> int:
    from getpass import getpass

    from bot.accounting import add_account

    password = getpass() if sys.stdin.isatty() else sys.stdin.readline().rstrip("\n")
    add_account(options.config, options.name, options.role, password)
    _print(f"{options.name} can log in now.")
    return 0


def _backup(options: argparse.Namespace) -> int:
    from bot import config
    from bot.store.copies import copy

    copy(config.read(options.config).database, options.target)
    _print(f"Backed up to {options.target}.")
    return 0


def _restore(options: argparse.Namespace) -> int:
    from bot import config
    from bot.store.copies import restore

    database = config.read(options.config).database
    before = restore(options.source, database)
    _print(f"Restored into {database}." + (f" What was there before: {before}." if before else ""))
    return 0


def _demo(options: argparse.Namespace) -> int:
    script = json.loads((files("bot") / "demo" / "month.json").read_text(encoding="utf-8"))
    _print("All people, places and weather here are invented.\n")
    for line in played(script, as_json=False, with_state=False):
        _print(line)
    return 0


def _replay(options: argparse.Namespace) -> int:
    try:
        script = json.loads(options.file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ConfigError(f"{options.file} can't be read as a conversation: {error}") from error
    for line in played(script, as_json=options.json, with_state=options.state):
        _print(line)
    return 0


def _parse(options: argparse.Namespace) -> int:
    from bot.understand import context_from_json, read, understood_to_json

    for number, line in enumerate(sys.stdin, 1):
        if not line.strip():
            continue
        try:
            given = json.loads(line)
            text, context = str(given["text"]), context_from_json(given)
        except (KeyError, TypeError, ValueError) as error:
            shape = '{"text": "45 cb at 12 in", "now": "2027-07-01T08:00"}'
            raise ConfigError(f"line {number} can't be read ({error}); it should be like {shape}") from error
        _print(json.dumps(understood_to_json(read(text, context)), ensure_ascii=False))
    return 0


def _print(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()
