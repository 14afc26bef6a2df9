"""Delivers the numbered messages from a first one on, and prints each number once it is acknowledged.

Run by test_store_crash, which kills it. Arguments: the file, the first number.
"""

from __future__ import annotations

import sys
from datetime import timedelta
from itertools import count
from pathlib import Path

from store_talk import MORNING

from bot.store import open_store

store = open_store(Path(sys.argv[1]))
person = store.people.person("sms", "+15550100", MORNING)
plot = next(iter(store.plots.of(person)), None) or store.plots.new(person, "peaches", at=MORNING)
for number in count(int(sys.argv[2])):
    with store.transaction():
        at = MORNING + timedelta(minutes=number)
        message = store.messages.keep(person, "watered", at, id=str(number))
        if message:
            store.log.keep(message, "watering", {"minutes": float(number)}, plot=plot, on=at.date())
            store.messages.replied(message, ["Saved."])
    sys.stdout.write(f"{number}\n")
    sys.stdout.flush()
