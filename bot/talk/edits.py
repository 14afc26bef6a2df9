"""A message whose words were changed after it was sent: the new words are read in the place of the old ones.

What the old words told is taken back (`record`). If nothing was said since, the talk goes back to where it stood before them;
otherwise it goes on where it stands, and the new words are no answer to what was asked meanwhile.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from bot import understand
from bot.talk.setup import plain
from bot.talk.visit import Draft, Visit
from bot.understand.statements import Unclear

# What was written longer ago has been advised on, and is history.
_LASTS = timedelta(days=1)


class _Unreadable(Exception):
    """The new words say nothing: the old ones stand, and so does all that came of them."""


def opened(visit: Visit) -> bool:
    """Begin to answer a message; False: it is an edit that changes nothing, or comes too late to."""
    if not visit.replaces:
        _mark(visit)
        return True
    if _says_the_same(visit):
        return False
    if visit.now - visit.replaces[0].received_at > _LASTS:
        if not visit.person.stopped:
            visit.say(visit.words.say("edit.late"))
        return False
    return True


def attempted(visit: Visit, read: Callable[[], None]) -> None:
    """Read the message; an edit that turns out to say nothing leaves all as it was."""
    if not visit.replaces:
        read()
        return
    try:
        with visit.store.transaction():
            _go_back(visit)
            read()
            if visit.draft.idle:
                raise _Unreadable
    except _Unreadable:
        visit.refresh()
        visit.draft = Draft(idle=True)
        visit.say(visit.words.say("edit.unread"))


def asked_still(visit: Visit) -> bool:
    """Whether a question stands that an edit, made aside, has not taken the plot from."""
    question = visit.person.question
    named = question and question.get("plot")
    return visit.aside and (not named or any(plot.name == named for plot in visit.plots()))


def _mark(visit: Visit) -> None:
    """Remember where the talk stands before this message."""
    person = visit.person
    visit.remember(
        before={
            "message": visit.message.id,
            "question": person.question,
            "asked": person.dialogue.get("asked", {}),
        }
    )


def _go_back(visit: Visit) -> None:
    """To where the talk stood before the old words, if they were the last said."""
    before = visit.person.dialogue.get("before", {})
    if before.get("message") != visit.replaces[0].id:
        visit.aside = True
        return
    if before["question"] is None:
        visit.store.people.clear_question(visit.person)
    else:
        visit.store.people.ask(visit.person, before["question"], visit.written)
    visit.remember(asked=before["asked"])


def _says_the_same(visit: Visit) -> bool:
    """Whether the new words say what the last version said: only the spelling, or a courtesy, is another."""
    old, new = visit.replaces[-1].text, visit.message.text
    if plain(old) == plain(new):
        return True
    said, says = (understand.read(text, visit.context(None)).statements for text in (old, new))
    return said == says and any(not isinstance(each, Unclear) for each in says)
