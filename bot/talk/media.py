"""Pictures, voices and files go to a person, and nothing is read from them; of a text in parts the missing ones are named."""

from __future__ import annotations

from datetime import timedelta

from bot.talk.visit import Visit

# Pictures that come closer together were sent as one album.
_ALBUM = timedelta(minutes=1)


def passed_on(visit: Visit) -> None:
    """Call a person for what came with a message, and say so: once for an album, or for the parts of one text."""
    if visit.message.media is None or visit.person.stopped:
        return
    *before, _ = visit.store.messages.latest(visit.person, 2)
    kind = visit.message.media.partition(":")[0]
    if not any(each.media and visit.now - each.received_at < _ALBUM for each in before):
        visit.say(visit.words.say("part" if kind == "part" else "media"))
    if kind != "part":
        visit.call_person(f"sent a {kind}")
