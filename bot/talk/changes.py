"""What is new in an advice beside its verdict: a plan that ended, another limit at another stage, roots that go deeper."""

from __future__ import annotations

from datetime import date
from typing import Any

from bot.word.say import Words
from rules.tables import Tables
from rules.terms import Advice, Plot

_LEAST_LIMIT = 0.02
_LEAST_CM = 3.0


def changes(words: Words, tables: Tables, before: Advice | None, now: Advice) -> list[str]:
    """What to say of the changes since the advice before on the same plot; nothing of a pot, which is told no shares."""
    if before is None or now.until_drains or now.limit is None or before.limit is None:
        return []
    was, is_now = _balance(before), _balance(now)
    if was.get("plant") != is_now.get("plant"):
        return []
    said = []
    if was.get("planned") and not is_now.get("planned"):
        said.append(words.say("change.plan_over", limit_share=now.limit))
    elif was.get("stage") != is_now.get("stage") and abs(now.limit - before.limit) >= _LEAST_LIMIT:
        said.append(words.say("change.limit", stage=_stage(words, tables, is_now.get("stage")), limit_share=now.limit))
    if abs(is_now.get("root_depth_cm", 0.0) - was.get("root_depth_cm", 0.0)) >= _LEAST_CM:
        said.append(words.say("change.roots", roots_cm=is_now["root_depth_cm"]))
    return said


def over_since(words: Words, plot: Plot, before: date | None, today: date) -> list[str]:
    """What was agreed for this plot alone and ended since the advice before."""
    if before is None:
        return []
    name = words.plot(plot.name)
    limit, rules = ((day is not None and before <= day < today) for day in (plot.own_until, plot.let_off_until))
    said = [words.say("exception.limit_over", plot=name)] if limit else []
    return said + ([words.say("exception.rules_again", plot=name)] if rules else [])


def _balance(advice: Advice) -> dict[str, Any]:
    return next((each.numbers for each in advice.reasons if each.rule == "balance"), {})


def _stage(words: Words, tables: Tables, stage: str | None) -> str:
    """The stage as people call it."""
    row = tables.stages.get(stage or "")
    names = () if row is None else row.names_es if words.language == "es" else row.names_en
    return names[0] if names else (stage or "").replace("_", " ")
