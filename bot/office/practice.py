"""Practice for colleagues: ten cases with a score, and a made-up person to text as, whose days one turns by hand."""

from __future__ import annotations

from flask import abort, request
from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.practice import ANSWERS, Judged, Room, cases, judged

_LONGEST = 400
_TURNS = {"an hour": 1, "a day": 24, "three days": 72}


def practice(caller: Caller) -> str:
    """The case that is next, or the score; and the talk."""
    room, all_cases = _room(caller), cases()
    done = len(room.answers)
    rights = [_right(caller, number) for number in range(done)]
    return caller.page(
        "practice",
        room=room,
        case=all_cases[done] if done < len(all_cases) else None,
        done=[
            (all_cases[number], answer, rights[number], answer == rights[number].answer)
            for number, answer in enumerate(room.answers)
        ],
        score=_score(room, rights),
        of=len(all_cases),
        answers=ANSWERS,
        turns=_TURNS,
        longest=_LONGEST,
    )


def practise(caller: Caller) -> ResponseReturnValue:
    """Answer the case, text as the made-up person, turn the clock, or begin afresh."""
    room, do = _room(caller), request.form.get("do", "")
    if do == "answer":
        _answer(caller, room)
    elif do == "text" and request.form.get("text", "").strip():
        room.text(request.form["text"].strip()[:_LONGEST])
    elif do in _TURNS:
        room.turn(_TURNS[do])
    elif do == "afresh":
        caller.house.practice.leave(caller.colleague.id)
    elif do != "text":
        abort(400)
    return caller.go("practice")


def _answer(caller: Caller, room: Room) -> None:
    """Keep the answer to the case that the form shows, once; the last one tells the trail the score."""
    answer = request.form.get("answer", "")
    if answer not in ANSWERS:
        abort(400)
    if request.form.get("case", type=int) != len(room.answers) or len(room.answers) >= len(cases()):
        return
    room.answers.append(answer)
    if len(room.answers) == len(cases()):
        score = _score(room, [_right(caller, number) for number in range(len(cases()))])
        caller.did("worked the practice cases", detail=f"{score} of {len(cases())} as the line answers")


def _right(caller: Caller, number: int) -> Judged:
    return judged(cases()[number], caller.house.tables, caller.house.office)


def _score(room: Room, rights: list[Judged]) -> int:
    return sum(answer == right.answer for answer, right in zip(room.answers, rights, strict=True))


def _room(caller: Caller) -> Room:
    return caller.house.practice.of(caller.colleague.id, caller.house.tables, caller.house.office)
