"""How a service is asked: in time, politely, and with a named failure. No outside source: these are our own rules."""

import time
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime

import pytest
from weather_services import Answer, Services

from bot.errors import FeedChanged, FeedDown, FeedError
from bot.feeds import http as http_module
from bot.feeds.http import Http, time_budget

GOOD = Answer({"good": 1})


def ask(http: Http, services: Services) -> object:
    return http.json("test", f"{services.url}/data", {"a": "b c"})


def test_an_answer_is_read_and_the_request_carries_our_name_and_contact(http: Http, services: Services) -> None:
    services.give("/data", GOOD)
    assert ask(http, services) == {"good": 1}
    _, query, headers = services.asked[0]
    assert query == {"a": ["b c"]}
    assert headers["User-Agent"] == "dropline (desk@office.example)"
    assert "application/geo+json" in headers["Accept"]


@pytest.mark.parametrize(
    "passing",
    [
        Answer({"title": "Unavailable Resource"}, status=503),
        Answer(b"<html>...</html>", status=502),
        Answer(b"<html>not data</html>"),
        Answer({"good": 1}, cut=4),
        Answer(b'{"good": [1, 2'),
        Answer({}, status=429),
        Answer(GOOD.body, wait_s=1.0),
    ],
    ids=["503", "502 page", "page as 200", "connection cut", "truncated", "429", "silent"],
)
def test_a_passing_failure_is_tried_once_more(http: Http, services: Services, passing: Answer) -> None:
    services.give("/data", passing, GOOD)
    assert ask(http, services) == {"good": 1}
    assert len(services.asked) == 2


@pytest.mark.parametrize("status", [500, 502, 503])
def test_a_failure_that_stays_is_feed_down_with_its_status(http: Http, services: Services, status: int) -> None:
    services.give("/data", Answer({}, status=status))
    with pytest.raises(FeedDown) as caught:
        ask(http, services)
    assert (caught.value.status, caught.value.everywhere, len(services.asked)) == (status, False, 2)


@pytest.mark.parametrize("status", [400, 401, 403])
def test_a_refused_request_is_not_repeated(http: Http, services: Services, status: int) -> None:
    services.give("/data", Answer(b"<HTML>Access Denied</HTML>", status=status))
    with pytest.raises(FeedChanged):
        ask(http, services)
    assert len(services.asked) == 1


def test_what_is_not_there_is_not_asked_for_again(http: Http, services: Services) -> None:
    with pytest.raises(FeedDown) as caught:
        ask(http, services)
    assert (caught.value.status, len(services.asked)) == (404, 1)


def test_a_short_retry_after_is_waited_for(http: Http, services: Services) -> None:
    services.give("/data", Answer({}, status=429, headers={"Retry-After": "1"}), GOOD)
    started = time.monotonic()
    assert ask(http, services) == {"good": 1}
    assert time.monotonic() - started >= 1.0


@pytest.mark.parametrize(
    "given", ["600", format_datetime(datetime.now(UTC) + timedelta(seconds=600))], ids=["seconds", "date"]
)
def test_a_long_retry_after_is_handed_on_instead_of_waited_for(http: Http, services: Services, given: str) -> None:
    services.give("/data", Answer({}, status=429, headers={"Retry-After": given}))
    with pytest.raises(FeedDown) as caught:
        ask(http, services)
    assert caught.value.everywhere
    assert caught.value.after_s == pytest.approx(600, abs=120)  # the date was made when the tests were collected
    assert len(services.asked) == 1


def test_a_service_that_nobody_runs_is_out_of_reach_everywhere(http: Http) -> None:
    with pytest.raises(FeedDown) as caught:
        http.json("test", "http://127.0.0.1:9/data")  # the discard port: nothing listens there
    assert caught.value.everywhere
    assert "127.0.0.1" not in str(caught.value)


def test_an_answer_without_end_is_dropped(http: Http, services: Services, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(http_module, "MOST_BYTES", 1000)
    services.give("/data", Answer(["x" * 2000]))
    with pytest.raises(FeedDown, match="more than 1000 bytes"):
        ask(http, services)


def test_an_answer_that_drips_ends_with_the_time_budget(http: Http, services: Services) -> None:
    services.give("/data", Answer(["x" * 200], drip_s=0.05))
    started = time.monotonic()
    with time_budget(0.4), pytest.raises(FeedDown):
        ask(http, services)
    assert time.monotonic() - started < 1.5  # 10 s of dripping otherwise


def test_no_request_starts_when_the_time_is_used_up(http: Http, services: Services) -> None:
    services.give("/data", GOOD)
    with time_budget(0.0), pytest.raises(FeedDown):
        ask(http, services)
    assert services.asked == []


def test_an_inner_budget_cannot_stretch_an_outer_one(http: Http, services: Services) -> None:
    services.give("/data", GOOD)
    with time_budget(0.0), time_budget(60.0), pytest.raises(FeedError):
        ask(http, services)
