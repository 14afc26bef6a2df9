"""Several plots in one text: by verdict, what needs water first; the shortest form that says most."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from bot.word import cautions, gsm7, verdict
from bot.word.voice import MOST, Part, Voice
from rules.terms import Advice, Verdict

Item = Callable[[Voice, Advice], str]


def several(voice: Voice, given: Sequence[Advice], also: Sequence[str] = (), undo: bool = False) -> str:
    """The text. On SMS amounts get shorter, then the looks go, then the last names, until two segments hold it.

    A rank 1 caution goes alone; a rank 2 one is said with its plot when there is room.
    """
    spoken = cautions.first(id_ for each in given for id_ in each.cautions if id_ != cautions.ON_PURPOSE)
    if spoken and spoken.rank == 1:
        return cautions.sentence(voice, spoken.id)
    hint = [Part(voice.say("kept.undo"), leaves=3)] if undo else []
    tail = [*map(Part, also), *hint, *_caution(voice, given, spoken), Part(voice.say("several.tail"), leaves=2)]
    room = MOST - sum(gsm7.septets(voice.finish(part.text)) + 1 for part in tail if not part.leaves)
    return voice.fit([Part(_shortest(voice, given, room)), *tail], roomy=True)


def _shortest(voice: Voice, given: Sequence[Advice], room: int) -> str:
    text = ""
    for text in _forms(voice, given):
        if not voice.short or gsm7.septets(text) <= room:
            break
    return text


def _forms(voice: Voice, given: Sequence[Advice]) -> Iterator[str]:
    """The same news from full to short."""
    yield _listed(voice, given, _full)
    yield _listed(voice, given, _brief)
    for shown in range(len(given), 0, -1):
        yield _listed(voice, given, _name, shown)


def _listed(voice: Voice, given: Sequence[Advice], item: Item, shown: int | None = None) -> str:
    sentences, left = [], len(given) if shown is None else shown
    for kind in (Verdict.WATER, Verdict.CHECK, Verdict.WAIT):
        of_kind = [each for each in given if each.verdict is kind]
        if not of_kind:
            continue
        names = [item(voice, each) for each in of_kind[: max(left, 0)]]
        over = len(of_kind) - len(names)
        names += [voice.say("several.more", n=over)] * bool(over)
        left -= len(of_kind)
        sentences.append(voice.say(f"several.{kind.lower()}", items="; ".join(names)))
    return " ".join(sentences)


def _full(voice: Voice, given: Advice) -> str:
    return _item(voice, given, brief=False)


def _brief(voice: Voice, given: Advice) -> str:
    return _item(voice, given, brief=True)


def _item(voice: Voice, given: Advice, brief: bool) -> str:
    plot = voice.plot(given.plot)
    if given.verdict is Verdict.WATER:
        return voice.say("several.amount", plot=plot, amount=verdict.amount(voice, given, brief))
    looks = given.verdict is Verdict.WAIT and given.date is not None and not brief
    return voice.say("several.look", plot=plot, when=given.date) if looks else plot


def _name(voice: Voice, given: Advice) -> str:
    return voice.plot(given.plot)


def _caution(voice: Voice, given: Sequence[Advice], spoken: cautions.Caution | None) -> list[Part]:
    if spoken is None:
        return []
    plot = next(each.plot for each in given if spoken.id in each.cautions)
    words = cautions.sentence(voice, spoken.id)
    return [Part(voice.say("plot.about", plot=voice.plot(plot), text=words), leaves=1)]
