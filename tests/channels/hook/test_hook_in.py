"""What the provider brings: proven, of now, once, in JSON or a form, and acknowledged only when it is kept."""

from __future__ import annotations

import json
import sqlite3
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from provider import SECRET, TOKEN, signed

from bot import config
from bot.serve import Running, assemble

ANN = "+15550101"


@pytest.fixture
def running(settings: Path) -> Running:
    return assemble(config.read(settings))


@pytest.fixture
def client(running: Running) -> FlaskClient:
    return running.app.test_client()


def bring(client: FlaskClient, told: Any, page: str = "in", at: float | None = None, **more: Any) -> int:
    body = json.dumps(told).encode()
    headers = signed(body, time.time() if at is None else at)
    return client.post(f"/hook/{page}", data=body, content_type="application/json", headers=headers, **more).status_code


def text(words: str, id_: str | None = "t1", sender: str = ANN, **more: Any) -> dict[str, Any]:
    return {"data": {"from": sender, "text": words, "id": id_, **more}}


def held(running: Running, number: str = ANN) -> list[Any]:
    person = running.line.store.people.known("sms", number)
    return running.line.store.messages.of(person) if person else []


def test_a_proven_text_is_kept_and_its_answer_waits_in_the_post(client: FlaskClient, running: Running) -> None:
    assert bring(client, text("tomatoes 60 cb at 12 in")) == 204
    assert [message.text for message in held(running)] == ["tomatoes 60 cb at 12 in"]
    assert {letter.address for letter in running.line.post.due("sms")} == {ANN}


def test_the_same_text_again_changes_nothing(client: FlaskClient, running: Running) -> None:
    assert bring(client, text("watered 30 min")) == 204
    letters = len(running.line.post.due("sms"))
    assert bring(client, text("watered 30 min")) == 204
    assert (len(held(running)), len(running.line.post.due("sms"))) == (1, letters)


def test_a_provider_without_ids_is_known_to_repeat_a_call_by_its_bytes(client: FlaskClient, running: Running) -> None:
    assert [bring(client, text("watered 30 min", None)) for _ in range(2)] == [204, 204]
    assert len(held(running)) == 1


@pytest.mark.parametrize("away_s", [-301 - 1, 301 + 1, -86400, 10**12])
def test_a_call_from_more_than_five_minutes_away_is_refused(
    client: FlaskClient, running: Running, away_s: float
) -> None:
    assert bring(client, text("lawn is dry"), at=time.time() + away_s) == 401
    assert held(running) == []


@pytest.mark.parametrize("away_s", [-280, 280])
def test_a_call_within_them_is_taken(client: FlaskClient, away_s: float) -> None:
    assert bring(client, text("lawn is dry"), at=time.time() + away_s) == 204


@pytest.mark.parametrize(
    "spoil",
    [
        lambda body, headers: (body.replace(b"dry", b"wet"), headers),
        lambda body, headers: (body, {**headers, "X-Timestamp": str(int(headers["X-Timestamp"]) + 1)}),
        lambda body, headers: (body, {**headers, "X-Signature": "sha256="}),
        lambda body, headers: (body, {"X-Signature": headers["X-Signature"]}),
        lambda body, headers: (body, {**headers, "X-Timestamp": "now"}),
        lambda body, headers: (body, signed(body, time.time(), "another secret")),
        lambda body, headers: (body, {"Authorization": f"Bearer {SECRET}"}),
    ],
)
def test_a_call_that_was_changed_or_not_signed_is_refused(client: FlaskClient, running: Running, spoil: Any) -> None:
    body = json.dumps(text("lawn is dry")).encode()
    body, headers = spoil(body, signed(body, time.time()))
    answer = client.post("/hook/in", data=body, content_type="application/json", headers=headers)
    assert answer.status_code == 401
    assert held(running) == []


@pytest.mark.parametrize("page", ["in", "status"])
@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"null", b"\xff\xfe", b'{"data": 3}', b'{"data": {"from": ["a"]}}'])
def test_nonsense_with_a_proof_is_no_error_of_ours(client: FlaskClient, page: str, body: bytes) -> None:
    headers = signed(body, time.time())
    answer = client.post(f"/hook/{page}", data=body, content_type="application/json", headers=headers)
    assert answer.status_code == (400 if page == "in" else 204)


def test_a_call_of_more_than_64_kb_is_refused(client: FlaskClient) -> None:
    assert bring(client, text("x" * 70_000)) == 413


def test_what_no_person_sent_is_acknowledged_and_left(client: FlaskClient, running: Running) -> None:
    assert bring(client, text("your code is 1234", sender="72345")) == 204
    assert running.line.store.people.everyone() == []


NOON = datetime.now(UTC).replace(hour=12, minute=0, second=0, microsecond=0) - timedelta(days=1)


@pytest.mark.parametrize(
    "written",
    [
        f"{NOON:%Y-%m-%dT%H:%M:%SZ}",
        f"{NOON - timedelta(hours=5):%Y-%m-%dT%H:%M:%S}-05:00",
        f"{NOON:%Y-%m-%dT%H:%M:%S}",
        f"{NOON.timestamp():.0f}",
        f"{NOON.timestamp():.0f}000",
        int(NOON.timestamp()),
    ],
    ids=["UTC", "zone", "none", "seconds", "milliseconds", "number"],
)
def test_the_time_of_a_text_is_read_in_any_common_way(running: Running, client: FlaskClient, written: Any) -> None:
    assert bring(client, text("lawn is dry", at=written)) == 204
    (message,) = held(running)
    assert message.sent_at.astimezone(UTC) == NOON


def test_a_time_that_is_none_is_left_out(running: Running, client: FlaskClient) -> None:
    assert bring(client, text("lawn is dry", at="soon")) == 204
    assert len(held(running)) == 1


def test_a_picture_goes_to_a_person(client: FlaskClient, running: Running) -> None:
    assert bring(client, text("", pictures=1)) == 204
    assert [message.media for message in held(running)] == ["photo"]


def test_what_could_not_be_kept_is_asked_for_again(client: FlaskClient, running: Running, settings: Path) -> None:

    holder = sqlite3.connect(settings.parent / "line.sqlite", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    assert bring(client, text("watered 30 min")) == 503
    holder.execute("ROLLBACK")
    holder.close()
    assert bring(client, text("watered 30 min")) == 204
    assert len(held(running)) == 1
    running.line.store.close()
    assert client.get("/health").status_code == 503
    assert client.get("/health").json["parts"]["store"] is False


def test_a_report_reaches_the_letter(client: FlaskClient, running: Running) -> None:
    outbox, post = running.line.store.outbox, running.line.post
    for number in range(3):
        outbox.put("sms", ANN, "WAIT lawn", at=datetime.now(UTC))
        post.took(post.due("sms")[0], f"m{number}")
    for id_, state in (("m0", "delivered"), ("m1", "rejected"), ("m2", "queued"), ("m9", "delivered")):
        assert bring(client, {"message": {"id": id_}, "status": state}, "status") == 204
    assert outbox.counts() == {"sms": {"arrived": 1, "lost": 1, "taken": 1}}


def test_a_form_with_a_bearer_token_does_as_well(office: Path) -> None:
    path = office / "dropline.toml"
    path.write_text(
        'database = "line.sqlite"\nweather = "weather.json"\n'
        '[hook.in]\nguard = "bearer"\nsecret = "hook.token"\nfrom = "Sender"\ntext = "Body"\nid = "Id"\n'
        '[hook.out]\nurl = "http://127.0.0.1:9/texts"\n',
        encoding="utf-8",
    )
    running = assemble(config.read(path))
    client = running.app.test_client()
    form = {"Sender": "(555) 555-0101", "Body": "riego mañana? ½", "Id": "7"}
    for shown, status in (("Bearer wrong", 401), (f"Bearer {TOKEN}", 204), ("", 401)):
        assert client.post("/hook/in", data=form, headers={"Authorization": shown}).status_code == status
    assert [message.text for message in held(running, "+15555550101")] == ["riego mañana? ½"]
    assert client.post("/hook/status", data=form).status_code == 404
