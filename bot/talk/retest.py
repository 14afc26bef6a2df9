"""A rate that was told over a year ago: a new can test is asked for in spring, once a season."""

from __future__ import annotations

from datetime import timedelta

from bot.store import StoredPlot
from bot.talk.visit import Visit
from bot.talk.year import northern_month

_OLD = timedelta(days=365)
# When systems are opened and tested (common practice): March to June, half a year later south of the equator.
_SPRING = (3, 4, 5, 6)


def retest_due(visit: Visit, plot: StoredPlot) -> bool:
    """Whether to ask for a new can test now; it is then not asked for again that year."""
    facts, today = plot.facts, visit.today
    old = facts.rate_mm_h is not None and facts.rate_on is not None and today - facts.rate_on > _OLD
    asked = visit.person.dialogue.get("retest", {})
    if not old or northern_month(plot, today) not in _SPRING or asked.get(plot.name) == today.year:
        return False
    visit.remember(retest={**asked, plot.name: today.year})
    return True
