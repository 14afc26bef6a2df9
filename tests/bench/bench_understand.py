"""How long a message takes to read: run by hand, `python tests/bench/bench_understand.py`.

Prints the cost of the import, of the first message (the word lists load then), and the median and the slowest hundredth
over the development messages.
"""

from __future__ import annotations

import json
import statistics
import sys
import time
from pathlib import Path

_ROOT = Path(__file__).parents[2]
_ROUNDS = 5


def main() -> None:
    sys.path.insert(0, str(_ROOT))
    start = time.perf_counter()
    from bot.understand import context_from_json, read

    imported = time.perf_counter()
    files = [_ROOT / "fixtures" / "messages" / f"dev_{language}.jsonl" for language in ("en", "es")]
    forms = [json.loads(line)["in"] for file in files for line in file.read_text(encoding="utf-8").splitlines()]
    messages = [(form["text"], context_from_json(form)) for form in forms]
    before = time.perf_counter()
    read(*messages[0])
    first = time.perf_counter()
    for message in messages:
        read(*message)
    took_ms = []
    for _ in range(_ROUNDS):
        for message in messages:
            began = time.perf_counter()
            read(*message)
            took_ms.append((time.perf_counter() - began) * 1000)
    slowest = statistics.quantiles(took_ms, n=100)[-1]
    sys.stdout.write(
        f"import {(imported - start) * 1000:.0f} ms, first message {(first - before) * 1000:.0f} ms\n"
        f"{len(messages)} messages: median {statistics.median(took_ms):.2f} ms, p99 {slowest:.2f} ms\n"
    )


if __name__ == "__main__":
    main()
