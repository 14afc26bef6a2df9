"""The log: one JSON object a line. It never holds a message's text, a name, or more of an address than its last two signs."""

from __future__ import annotations

import json
import logging
import sys
from datetime import UTC, datetime


class Lines(logging.Formatter):
    """A record as one line of JSON; of an error where it came from, without the values that were at work there."""

    def format(self, record: logging.LogRecord) -> str:
        """The line."""
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "says": record.getMessage(),
        }
        if record.exc_info and record.exc_info[0] is not None:
            line["error"] = record.exc_info[0].__name__
            line["where"] = _where(record)
        return json.dumps(line, ensure_ascii=False)


def masked(address: str) -> str:
    """An address as it may stand in a log."""
    return f"...{address[-2:]}" if len(address) > 4 else "..."


def start() -> None:
    """Log to standard error, where the service manager picks it up."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Lines())
    logging.basicConfig(level=logging.INFO, handlers=[handler], force=True)
    # These write whole addresses of requests, which hold tokens.
    for name in ("httpx", "httpcore", "urllib3", "telegram", "waitress"):
        logging.getLogger(name).setLevel(logging.WARNING)


def _where(record: logging.LogRecord) -> str:
    trace = record.exc_info[2] if record.exc_info else None
    places = []
    while trace is not None:
        code = trace.tb_frame.f_code
        places.append(f"{code.co_filename.rpartition('/')[2]}:{trace.tb_lineno} {code.co_name}")
        trace = trace.tb_next
    return " > ".join(places[-6:])
