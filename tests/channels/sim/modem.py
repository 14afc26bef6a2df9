"""The real gammu-smsd on a phone that is a folder: texts are put into it as a network would, and what it sent is looked up."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

SCHEMA = Path("/usr/share/doc/gammu-smsd/examples/sqlite.sql")
INSTALLED = shutil.which("gammu-smsd") is not None and SCHEMA.exists()
# Only ends a test that would never end: what is waited for takes a second or two.
PATIENCE_S = 600.0

SAMPLE = Path(__file__).resolve().parents[3] / "fixtures" / "serve" / "smsdrc"


def settings(folder: Path) -> str:
    """The sample of an office, for a phone that is a folder and a daemon in a hurry."""
    ours = {
        "device": f"{folder}/phone",
        "connection": "none\nmodel = dummy",
        "dbdir": f"{folder}/",
        "logfile": f"{folder}/smsd.log",
        "commtimeout": "1\nreceivefrequency = 1\nloopsleep = 0",
        "statusfrequency": "1",
        "multiparttimeout": "3\nskipsmscnumber = 123456",
    }
    keys = [(line, line.partition(" = ")[0]) for line in SAMPLE.read_text(encoding="ascii").splitlines()]
    return "\n".join(f"{key} = {ours[key]}" if key in ours else line for line, key in keys) + "\n"


def wait_until(holds: Callable[[], Any]) -> Any:
    """What `holds` gives once it is true."""
    end = time.monotonic() + PATIENCE_S
    while not (found := holds()):
        assert time.monotonic() < end, f"waited in vain for {holds}"
        time.sleep(0.2)
    return found


class Modem:
    """One modem, its daemon and the daemon's tables."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.database = folder, folder / "sms.db"
        self.inbox = folder / "phone" / "sms" / "1"
        self.inbox.mkdir(parents=True)
        self._texts = 0
        self._daemon: subprocess.Popen[bytes] | None = None
        (folder / "smsdrc").write_text(settings(folder), encoding="ascii")
        self.run(SCHEMA.read_text(encoding="utf-8"))
        self.rows("PRAGMA journal_mode = WAL")

    def start(self, zone: str | None = None) -> None:
        """Start the daemon, in another zone of time if told so."""
        environment = {**os.environ, "LC_ALL": "C", **({"TZ": zone} if zone else {})}
        command = ["gammu-smsd", "-c", str(self.folder / "smsdrc")]
        null = subprocess.DEVNULL
        self._daemon = subprocess.Popen(command, env=environment, stdout=null, stderr=null)

    def kill(self) -> None:
        """End the daemon as a power cut would."""
        if self._daemon:
            self._daemon.kill()
            self._daemon.wait()
            self._daemon = None

    def text(self, sender: str, words: str, at: datetime, header: str = "") -> None:
        """A text reaches the modem."""
        self._texts += 1
        written = words.encode("utf-16-be").hex().upper()
        lines = [written[begin : begin + 200] for begin in range(0, len(written), 200)]
        coding = "Default" if words.isascii() else "Unicode"
        message = [
            "[SMSBackup000]",
            "PDU = Deliver",
            f"DateTime = {at.astimezone(UTC):%Y%m%dT%H%M%SZ}",
            "State = UnRead",
            f'Number = "{sender}"',
            f"NumberUnicode = {sender.encode('utf-16-be').hex().upper()}",
            *([f"UDH = {header}"] if header else []),
            *(f"Text{number:02d} = {line}" for number, line in enumerate(lines)),
            f"Coding = {coding}_No_Compression",
            "Folder = 1",
            f"Length = {len(words)}",
            "Class = -1",
        ]
        self._lay(message)

    def report(self, number: str, at: datetime, said: str = "Delivered") -> None:
        """The network reports on the oldest text to this number; the dummy gives each the reference 255."""
        self._texts += 1
        self._lay([
            "[SMSBackup000]",
            "PDU = Status_Report",
            f"DateTime = {at.astimezone(UTC):%Y%m%dT%H%M%SZ}",
            "State = UnRead",
            f'Number = "{number}"',
            f"NumberUnicode = {number.encode('utf-16-be').hex().upper()}",
            f"Text00 = {said.encode('utf-16-be').hex().upper()}",
            "Coding = Default_No_Compression",
            "Folder = 1",
            f"Length = {len(said)}",
            "Class = -1",
            "MessageReference = 255",
        ])  # fmt: skip

    def rows(self, sql: str, *values: Any) -> list[sqlite3.Row]:
        """What a statement gives on the daemon's tables."""
        connection = sqlite3.connect(self.database, timeout=30)
        connection.row_factory = sqlite3.Row
        with connection:
            found = connection.execute(sql, values).fetchall()
        connection.close()
        return found

    def run(self, script: str) -> None:
        connection = sqlite3.connect(self.database, timeout=30)
        connection.executescript(script)
        connection.close()

    def _lay(self, message: list[str]) -> None:
        """Written beside, then moved in, so that the daemon never sees half a file."""
        aside = self.folder / "arriving"
        aside.write_text("\n".join(message) + "\n", encoding="ascii")
        aside.rename(self.inbox / str(self._texts))
