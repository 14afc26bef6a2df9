"""Every page and form of the office, and the role that it needs: what stands here is guarded, and nothing else is served."""

from __future__ import annotations

from typing import NamedTuple

from bot.office import (
    accounts,
    answers,
    desk,
    drawn,
    exceptions,
    gate,
    health,
    limits,
    lists,
    logger,
    misses,
    notices,
    person,
    plot,
    practice,
    probes,
    record,
    released,
    report,
    sent,
    today,
    touched,
)
from bot.office.gate import View


class Route(NamedTuple):
    """One address below `/office`; its page is named after the view."""

    rule: str
    view: View
    role: str
    method: str = "GET"


# What stands in the bar of pages, where the role allows it.
NAVIGATION = (
    ("today", "Today", "helper"),
    ("desk", "Help desk", "helper"),
    ("people", "People", "helper"),
    ("canned", "Answers", "helper"),
    ("probes", "Probes", "helper"),
    ("limits", "Limits", "specialist"),
    ("county", "Record", "specialist"),
    ("notices", "Notices", "specialist"),
    ("misses", "Misses", "specialist"),
    ("health", "Health", "specialist"),
    ("accounts", "Accounts", "keeper"),
    ("trail", "Trail", "keeper"),
)

ROUTES = (
    Route("", today.today, "helper"),
    Route("/logout", gate.log_out, "helper", "POST"),
    Route("/people", lists.people, "helper"),
    Route("/people/<any(late, check):which>", lists.people, "helper"),
    Route("/people/<int:id>", person.person, "helper"),
    Route("/people/<int:id>/sent/<int:message>", sent.sent, "helper"),
    Route("/people/<int:id>/number", person.number, "specialist", "POST"),
    Route("/people/<int:id>/write", person.write, "helper", "POST"),
    Route("/people/<int:id>/length", person.length, "helper", "POST"),
    Route("/people/<int:id>/take", desk.take_over, "helper", "POST"),
    Route("/people/<int:id>/consent", person.consent, "helper"),
    Route("/people/<int:id>/stop", person.stop, "helper", "POST"),
    Route("/people/<int:id>/export", person.export, "keeper", "POST"),
    Route("/people/<int:id>/forget", person.forget, "keeper", "POST"),
    Route("/people/<int:id>/plots/<int:plot>", plot.plot, "helper"),
    Route("/people/<int:id>/plots/<int:plot>", plot.change_plot, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/exception", exceptions.agree_exception, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/exception/end", exceptions.end_exception, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/share", plot.share_plot, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/probes", logger.logger, "helper"),
    Route("/people/<int:id>/plots/<int:plot>/probes", logger.hand_in, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/probes/full", logger.take_full, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/probes/token", logger.sensor_token, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/probes/drawing", logger.trace, "helper"),
    Route("/people/<int:id>/plots/<int:plot>/probes/looked-at/<int:upload>", logger.keep, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/probes/<int:file>/back", logger.take_back, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/season", record.record, "helper"),
    Route("/people/<int:id>/plots/<int:plot>/season", record.set_baseline, "specialist", "POST"),
    Route("/people/<int:id>/plots/<int:plot>/season/file", record.plot_file, "specialist"),
    Route("/notices", notices.notices, "specialist"),
    Route("/notices", notices.draft_notice, "specialist", "POST"),
    Route("/notices/<int:id>", notices.notice, "specialist"),
    Route("/notices/<int:id>", notices.move_notice, "specialist", "POST"),
    Route("/record", record.county, "specialist"),
    Route("/record/month", report.report, "specialist"),
    Route("/record/file", record.county_file, "specialist"),
    Route("/people/<int:id>/advices/<int:advice>", plot.advice, "helper"),
    Route("/people/<int:id>/advices/<int:advice>/graph.svg", drawn.graph, "helper"),
    Route("/desk", desk.desk, "helper"),
    Route("/desk/log", desk.log_form, "helper"),
    Route("/desk/log", desk.log_call, "helper", "POST"),
    Route("/desk/<int:id>", desk.thread, "helper"),
    Route("/desk/<int:id>", desk.move_call, "helper", "POST"),
    Route("/desk/<int:id>/note", desk.note, "helper", "POST"),
    Route("/answers", answers.canned, "helper"),
    Route("/answers", answers.keep_canned, "specialist", "POST"),
    Route("/probes", probes.probes, "helper"),
    Route("/probes", probes.add_probe, "specialist", "POST"),
    Route("/probes/<int:id>", probes.probe, "helper"),
    Route("/probes/<int:id>", probes.move_probe, "helper", "POST"),
    Route("/practice", practice.practice, "helper"),
    Route("/practice", practice.practise, "helper", "POST"),
    Route("/limits", limits.limits, "specialist"),
    Route("/limits/<table>", limits.limits_table, "specialist"),
    Route("/limits/<table>/<row>", limits.limits_row, "specialist"),
    Route("/limits/<table>/<row>", limits.propose, "specialist", "POST"),
    Route("/limits/changes/<int:id>", limits.limits_change, "specialist"),
    Route("/limits/changes/<int:id>", limits.move_change, "specialist", "POST"),
    Route("/misses", misses.misses, "specialist"),
    Route("/misses/<kind>", misses.missed, "specialist"),
    Route("/touched", touched.touched, "specialist"),
    Route("/touched", touched.draft_correction, "specialist", "POST"),
    Route("/health", health.health, "specialist"),
    Route("/account", accounts.own_account, "helper"),
    Route("/account", accounts.change_own_password, "helper", "POST"),
    Route("/account/telephone", accounts.set_telephone, "specialist", "POST"),
    Route("/accounts", accounts.accounts, "keeper"),
    Route("/accounts", accounts.add_account, "keeper", "POST"),
    Route("/accounts/<int:id>", accounts.change_account, "keeper", "POST"),
    Route("/trail", accounts.trail, "keeper"),
    Route("/request", released.records_request, "keeper"),
    Route("/request", released.hand_out, "keeper", "POST"),
)
