"""The texts of a visit as replies to send: greeted once, joined while they fit, each with its figures."""

from __future__ import annotations

from typing import Any

from bot.message import Picture, Reply
from bot.talk.visit import Draft, Visit
from rules.terms import Advice, Verdict


def replies(visit: Visit) -> list[Reply]:
    """All replies in the order to send them; the figures of the advice go with the first, the question with the last."""
    draft = visit.draft
    texts = _joined(visit, [text for text in draft.texts if text], set(draft.pictures))
    greeting = [_greeting(visit)] if texts and not visit.person.stopped and not greeted(visit) else []
    sent = [] if draft.first else list(greeting)
    last = len(texts) - 1
    for number, text in enumerate(texts):
        shown = Draft(
            advices=draft.advices if number == 0 else [],
            person_called=draft.person_called and number == 0,
            asks=draft.asks if number == last else None,
            choices=draft.choices if number == last else (),
        )
        sent.append(_reply(visit, text, shown, draft.pictures.get(text)))
    return sent + greeting if draft.first else sent


def greeted(visit: Visit) -> bool:
    """Whether the person was told who answers here."""
    return bool(visit.person.dialogue.get("greeted"))


def _greeting(visit: Visit) -> Reply:
    visit.remember(greeted=True)
    return _reply(visit, visit.words.hello(visit.office_name), Draft())


def _joined(visit: Visit, texts: list[str], alone: set[str]) -> list[str]:
    """Texts put together as long as they fit one segment, or as one where the channel counts none."""
    joined: list[str] = []
    between = visit.words.joint * 2 if visit.words.roomy else " "
    for text in texts:
        together = f"{joined[-1]}{between}{text}" if joined else text
        if joined and alone.isdisjoint((joined[-1], text)) and visit.words.segments(together) == 1:
            joined[-1] = together
        else:
            joined.append(text)
    return joined


def _reply(visit: Visit, text: str, shown: Draft, picture: Picture | None = None) -> Reply:
    most_urgent = min(shown.advices, key=lambda advice: list(Verdict).index(advice.verdict), default=None)
    return Reply(
        to=visit.person.address,
        text=text,
        language=visit.language,
        asks=shown.asks,
        choices=shown.choices,
        person_called=shown.person_called,
        segments=visit.words.segments(text),
        picture=picture,
        parts=tuple(map(_figures, shown.advices)) if len(shown.advices) > 1 else (),
        **(_figures(most_urgent) if most_urgent else {}),
    )


def _figures(advice: Advice) -> dict[str, Any]:
    return {
        "plot": advice.plot or None,
        "verdict": str(advice.verdict),
        "depth_mm": advice.depth_mm,
        "minutes": advice.minutes,
        "date": advice.date,
        "water_left": advice.water_left,
        "limit": advice.limit,
    }
