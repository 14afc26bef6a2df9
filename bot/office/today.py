"""The first page: who needs an answer, who is late, what can't be right, what the weather will do, and whether all is well."""

from __future__ import annotations

from datetime import timedelta

from flask.typing import ResponseReturnValue

from bot.office.house import Caller
from bot.office.limits import rules_to_read
from bot.store import StoredPlot
from bot.store.exceptions import PlotException
from bot.store.overview import Search

_SHOWN = 8
# Exceptions that end in the days to come, or ended in the days before.
_NEAR = timedelta(days=7)


def today(caller: Caller) -> ResponseReturnValue:
    """The page."""
    overview, on = caller.store.overview, caller.now.date()
    search = Search(desks=caller.desks, at_most=_SHOWN)
    calls = overview.calls(caller.desks, at_most=_SHOWN)
    late, late_count = overview.late(search, on)
    doubted, doubted_count = overview.doubted(search, on)
    return caller.page(
        "today",
        calls=calls,
        late=late,
        late_count=late_count,
        doubted=doubted,
        doubted_count=doubted_count,
        dead=caller.store.outbox.dead(_SHOWN) if caller.may("specialist") else [],
        exceptions=_exceptions(caller) if caller.may("specialist") else [],
        probes=caller.store.probes.late(on),
        unread=rules_to_read(caller) if caller.may("specialist") else [],
        health=caller.house.health(),
        forecast=caller.house.forecast,
    )


def _exceptions(caller: Caller) -> list[tuple[PlotException, StoredPlot]]:
    on = caller.now.date()
    near = caller.store.exceptions.of_late(on - _NEAR, on + _NEAR)
    return [(each, caller.store.plots.by_id(each.plot)) for each in near]
