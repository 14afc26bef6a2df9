"""Measure the reader of messages on files of messages with their right readings. Run by hand; no test.

    python tests/bench/measure_reading.py fixtures/messages/fresh_en.jsonl --open --show

Prints the share of messages read exactly right, by group, and precision and recall over single statements.
Texts of messages marked `kept` are never shown: they stay an honest measure only while nobody reads them.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import date, datetime
from pathlib import Path
from typing import Any

from bot.understand import read
from bot.understand.statements import Asked, Context, Understood, to_a_tenth

Form = dict[str, Any]


def context_of(given: dict[str, Any]) -> Context:
    """The context that the JSON form of a message gives beside its text."""
    asked = given.get("asked")
    return Context(
        now=datetime.fromisoformat(given["now"]),
        plots=tuple(given["plots"]),
        units=given["units"],
        probe=given["probe"],
        language=given["language"],
        asked=asked and Asked(about=asked["about"], plot=asked.get("plot"), choices=tuple(asked.get("choices") or ())),
    )


def form_of(understood: Understood) -> Form:
    """What was understood, in the JSON form."""
    statements = [{"is": type(each).__name__.lower(), **asdict(each)} for each in understood.statements]
    return {"language": understood.language, "statements": statements}


def comparable(value: Any) -> Any:
    """A slot as it is compared: numbers to 0.1 as they leave, dates as text, sequences as lists."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int | float):
        return to_a_tenth(float(value))
    if isinstance(value, date):
        return value.isoformat()
    return list(value) if isinstance(value, tuple) else value


def key(statement: Form) -> str:
    """One text for statements that count as the same; in what stays unclear, marks at the ends and case don't count."""
    slots = {name: comparable(value) for name, value in statement.items()}
    if slots["is"] == "unclear":
        slots["text"] = " ".join(slots["text"].split()).strip(" .,;:!?¡¿").casefold()
    return json.dumps(slots, sort_keys=True)


def same(one: Form, other: Form) -> bool:
    return one["language"] == other["language"] and [*map(key, one["statements"])] == [*map(key, other["statements"])]


def found(got: Form, wanted: Form) -> int:
    """How many statements two readings share, order aside."""
    shared = Counter(map(key, got["statements"])) & Counter(map(key, wanted["statements"]))
    return shared.total()


def nearest(got: Form, accepted: list[Form]) -> Form:
    """The accepted reading to count against: an equal one, else the one that shares most and strays least."""
    return max(accepted, key=lambda each: (same(got, each), found(got, each), -len(each["statements"])))


def rows(paths: Iterable[Path], kept: bool | None) -> Iterator[Form]:
    for path in paths:
        for line in path.read_text(encoding="utf-8").splitlines():
            row = json.loads(line)
            if kept is None or kept == row.get("kept", False):
                yield row


def understood_form(row: Form) -> Form:
    """What the reader makes of a message. A reader that falls over has understood nothing, in no language."""
    try:
        return form_of(read(row["in"]["text"], context_of(row["in"])))
    except Exception as error:
        return {"language": f"failed: {type(error).__name__}", "statements": []}


def miss(row: Form, got: Form) -> str:
    shown = {"id": row["id"], "in": row["in"], "wanted": row["expect"], "got": got}
    return json.dumps(shown, ensure_ascii=False, default=str, indent=1)


def measure(messages: Iterable[Form], show: bool) -> Iterator[str]:
    """Lines of the report: failures that may be shown, then shares by group, then the totals."""
    right, total, count = Counter[str](), Counter[str](), Counter[str]()
    for row in messages:
        got = understood_form(row)
        wanted = nearest(got, [row["expect"], *row.get("also_ok", [])])
        hit = same(got, wanted)
        total[row["group"]] += 1
        right[row["group"]] += hit
        count["shared"] += found(got, wanted)
        count["got"] += len(got["statements"])
        count["wanted"] += len(wanted["statements"])
        if show and not hit and not row.get("kept", False):
            yield miss(row, got)
    for group in total:
        yield share(group, right[group], total[group])
    yield share("all messages", right.total(), total.total())
    yield share("precision", count["shared"], count["got"])
    yield share("recall", count["shared"], count["wanted"])


def share(name: str, part: int, whole: int) -> str:
    return f"{name:24} {part:5} of {whole:5}" + (f"  {part / whole:6.1%}" if whole else "")


def main() -> None:
    parser = argparse.ArgumentParser(description="Measure the reader of messages.")
    parser.add_argument("files", nargs="+", type=Path)
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--kept", dest="kept", action="store_true", default=None, help="only the messages kept apart")
    which.add_argument("--open", dest="kept", action="store_false", default=None, help="only the others")
    parser.add_argument("--show", action="store_true", help="show failures, never those kept apart")
    given = parser.parse_args()
    for line in measure(rows(given.files, given.kept), given.show):
        sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
