"""Sensors that report by themselves: a token opens one plot, a batch is kept whole or not at all, and nothing counts twice."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from flask.testing import FlaskClient
from office_desk import Desk
from werkzeug.test import TestResponse

from bot.store import StoredPlot
from bot.web import create_app, sensors


def planted(office: Desk) -> StoredPlot:
    for words in ("grapes, loam, drip", "36.1, -97.1"):
        office.texts(words)
    (plot,) = office.line.store.plots.of(office.line.store.people.by_id(office.person()))
    return plot


@pytest.fixture
def door(office: Desk) -> FlaskClient:
    return create_app("secret", [sensors.pages(office.line)], lambda: []).test_client()


def send(door: FlaskClient, token: str, told: Any) -> TestResponse:
    return door.post("/sensors", json=told, headers={"Authorization": f"Bearer {token}"})


def observation(office: Desk, hours_ago: float = 2, **changed: Any) -> dict[str, Any]:
    at = office.clock() - timedelta(hours=hours_ago)
    return {"at": f"{at.isoformat()}+00:00", "depth_cm": 30, "unit": "cb", "value": 45, **changed}


def test_one_observation_is_kept_and_reaches_the_next_advice(office: Desk, door: FlaskClient) -> None:
    plot = planted(office)
    token = office.line.store.tokens.make(plot, "rosa", office.clock())
    answer = send(door, token, observation(office))
    assert (answer.status_code, answer.json) == (200, {"new": 1, "known": 0})
    (kept,) = office.line.store.log.observations(plot)
    assert (kept.slots["quantity"], kept.slots["value"], kept.slots["depth_cm"]) == ("tension", 45.0, 30.0)


def test_the_same_batch_again_changes_nothing(office: Desk, door: FlaskClient) -> None:
    plot = planted(office)
    token = office.line.store.tokens.make(plot, "rosa", office.clock())
    batch = {"observations": [observation(office, hours) for hours in (1, 2, 3)]}
    assert send(door, token, batch).json == {"new": 3, "known": 0}
    assert send(door, token, batch).json == {"new": 0, "known": 3}
    assert len(office.line.store.log.observations(plot)) == 1


@pytest.mark.parametrize("token", ["", "wrong", "' OR 1=1 --"])
def test_without_the_token_nothing_is_kept(office: Desk, door: FlaskClient, token: str) -> None:
    plot = planted(office)
    assert send(door, token, observation(office)).status_code == 401
    assert office.line.store.series.span(plot) is None


def test_a_token_that_ended_opens_nothing(office: Desk, door: FlaskClient) -> None:
    plot = planted(office)
    old = office.line.store.tokens.make(plot, "rosa", office.clock())
    new = office.line.store.tokens.make(plot, "rosa", office.clock())
    assert send(door, old, observation(office)).status_code == 401
    office.line.store.tokens.end(plot)
    assert send(door, new, observation(office)).status_code == 401


@pytest.mark.parametrize(
    "wrong",
    [
        {"unit": "furlong"}, {"value": "wet"}, {"value": 99999}, {"depth_cm": -3}, {"at": "yesterday"},
        {"at": "2031-07-14T06:00:00"}, {"value": None}, {"depth_cm": [1]},
    ],
)  # fmt: skip
def test_a_batch_with_one_wrong_observation_is_refused_whole(
    office: Desk, door: FlaskClient, wrong: dict[str, Any]
) -> None:
    plot = planted(office)
    token = office.line.store.tokens.make(plot, "rosa", office.clock())
    answer = send(door, token, {"observations": [observation(office), observation(office, 5, **wrong)]})
    assert answer.status_code == 400
    assert answer.json is not None
    assert "observation 1" in answer.json["error"]
    assert office.line.store.series.span(plot) is None


@pytest.mark.parametrize(
    "told", [None, [], "x", {"observations": []}, {"observations": "x"}, {"observations": [1] * 1001}]
)
def test_what_is_no_batch_is_refused(office: Desk, door: FlaskClient, told: Any) -> None:
    token = office.line.store.tokens.make(planted(office), "rosa", office.clock())
    assert send(door, token, told).status_code == 400


def test_a_specialist_makes_and_ends_a_token_on_the_plots_page(office: Desk) -> None:
    plot = planted(office)
    rosa = office.browser("rosa", "specialist")
    page = f"/office/people/{office.person()}/plots/{plot.id}/probes"
    rosa.post(f"{page}/token", page, do="make")
    assert "shown this once" in rosa.get(page)
    assert office.line.store.tokens.has_one(plot)
    rosa.post(f"{page}/token", page, do="end")
    assert not office.line.store.tokens.has_one(plot)
