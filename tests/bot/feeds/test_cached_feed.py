"""The feed of a running line, over hand-written services. No outside source: these are our own rules."""

import threading
import time
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

import pytest
from weather_services import Answer, Services, fixture

from bot.errors import FeedChanged, FeedDown, FeedError
from bot.feeds.acis import ObservedGrid
from bot.feeds.cached import CachedFeed, MemoryShelf, aged
from bot.feeds.feed import FORECAST, PAST, Feed
from bot.feeds.file import FileFeed
from bot.feeds.globe import GlobeService
from bot.feeds.http import Http, time_left_s
from bot.feeds.nws import NationalForecast
from bot.feeds.world import open_feed
from rules.terms import Day, Weather

ON = date(2031, 7, 22)
PLACE = (36.0, -96.0)


def day(offset: int, rain_mm: float | None = 0.0, pop: float | None = None, **values: float) -> Day:
    return Day(on=ON + timedelta(days=offset), rain_mm=rain_mm, pop=pop, **values)


PAST_WEEK = tuple(day(-back) for back in range(7, 0, -1))
WHOLE = Weather(
    past=PAST_WEEK,
    forecast=tuple(day(ahead, 5.0, 0.5, et0_mm=6.0) for ahead in range(10)),
    source="whole",
    as_of=datetime(2031, 7, 22, 6, 0),
)


class Clock:
    def __init__(self) -> None:
        self.now = datetime(2031, 7, 22, 12, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def go(self, **spell: float) -> None:
        self.now += timedelta(**spell)


@dataclass
class Fake:
    """A service that gives `answer`, or raises it."""

    answer: Weather | FeedError
    name: str = "fake"
    gives: frozenset[str] = frozenset({PAST, FORECAST})
    reach: bool = True
    wait_s: float = 0.0
    asked: list[tuple[float, float]] = field(default_factory=list)
    left_s: float = 0.0

    def covers(self, latitude: float, longitude: float) -> bool:
        return self.reach

    def fetch(self, latitude: float, longitude: float, on: date) -> Weather:
        self.asked.append((latitude, longitude))
        self.left_s = time_left_s()
        time.sleep(self.wait_s)
        if isinstance(self.answer, FeedError):
            raise self.answer
        return self.answer


@pytest.fixture
def clock() -> Clock:
    return Clock()


def feed_of(clock: Clock, *choices: Fake, budget_s: float = 8.0) -> CachedFeed:
    return CachedFeed(choices, MemoryShelf(), clock, budget_s)


DOWN = FeedDown("fake", "status 503", status=503)
GONE = FeedDown("fake", "ConnectTimeout", everywhere=True)


def test_one_answer_serves_a_cell_for_an_hour(clock: Clock) -> None:
    service = Fake(WHOLE)
    feed = feed_of(clock, service)
    assert feed.view(*PLACE, ON) == WHOLE
    clock.go(minutes=59)
    assert feed.view(36.01, -96.02, ON) == WHOLE  # the same cell of 0.05 degrees
    assert service.asked == [(36.0, -96.0)]
    feed.view(36.03, -96.0, ON)
    assert service.asked[1] == (36.05, -96.0)
    clock.go(minutes=2)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 3


def test_a_place_that_is_not_known_has_no_weather(clock: Clock) -> None:
    service = Fake(WHOLE)
    assert feed_of(clock, service).view(None, None, ON) == Weather()
    assert service.asked == []


def test_when_nothing_can_be_reached_there_is_no_weather_and_no_exception(clock: Clock) -> None:
    for error in (DOWN, GONE, FeedChanged("fake", "other shape")):
        assert feed_of(clock, Fake(error)).view(*PLACE, ON) == Weather()


def test_the_next_service_is_asked_when_the_first_fails_or_does_not_reach(clock: Clock) -> None:
    behind = Fake(WHOLE, name="behind")
    assert feed_of(clock, Fake(DOWN), behind).view(*PLACE, ON) == WHOLE
    assert feed_of(clock, Fake(WHOLE, reach=False), behind).view(*PLACE, ON) == WHOLE
    assert len(behind.asked) == 2


def test_a_service_behind_is_not_asked_for_what_is_there(clock: Clock) -> None:
    ahead = Fake(Weather(forecast=WHOLE.forecast), name="a", gives=frozenset({FORECAST}))
    observed = Fake(Weather(past=PAST_WEEK), name="b", gives=frozenset({PAST}))
    behind = Fake(WHOLE, name="c")
    view = feed_of(clock, ahead, observed, behind).view(*PLACE, ON)
    assert (view.past, view.forecast) == (PAST_WEEK, WHOLE.forecast)
    assert behind.asked == []


def test_a_day_not_yet_observed_is_filled_by_the_service_behind(clock: Clock) -> None:
    ahead = Fake(Weather(forecast=WHOLE.forecast, source="a"), name="a", gives=frozenset({FORECAST}))
    observed = Fake(Weather(past=PAST_WEEK[:-1], source="b"), name="b", gives=frozenset({PAST}))
    behind = Fake(Weather(past=(day(-2, 9.0), day(-1, 7.0)), source="c"), name="c")
    view = feed_of(clock, ahead, observed, behind).view(*PLACE, ON)
    assert [seen.rain_mm for seen in view.past[-2:]] == [0.0, 7.0]
    assert view.source == "a; b; c"


def test_a_cell_that_failed_is_left_alone_for_ten_minutes(clock: Clock) -> None:
    service = Fake(DOWN)
    feed = feed_of(clock, service)
    for _ in range(3):
        feed.view(*PLACE, ON)
    assert len(service.asked) == 1
    feed.view(40.0, -96.0, ON)  # another cell has not failed
    assert len(service.asked) == 2
    clock.go(minutes=11)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 3


def test_a_service_out_of_reach_is_left_alone_for_all_cells_and_as_long_as_it_asked(clock: Clock) -> None:
    service = Fake(FeedDown("fake", "status 429", status=429, everywhere=True, after_s=1800))
    feed = feed_of(clock, service)
    feed.view(*PLACE, ON)
    feed.view(40.0, -96.0, ON)
    clock.go(minutes=29)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 1
    clock.go(minutes=2)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 2


def test_a_service_that_comes_back_is_heard_again(clock: Clock) -> None:
    service = Fake(DOWN)
    feed = feed_of(clock, service)
    assert feed.view(*PLACE, ON) == Weather()
    service.answer = WHOLE
    clock.go(minutes=11)
    assert feed.view(*PLACE, ON) == WHOLE


def test_three_days_without_a_feed_leave_the_old_forecast_its_et_and_chances_of_the_first_days(clock: Clock) -> None:
    service = Fake(WHOLE)
    feed = feed_of(clock, service)
    feed.view(*PLACE, ON)
    service.answer = GONE
    clock.go(days=3)
    view = feed.view(*PLACE, ON + timedelta(days=3))
    assert view.past == PAST_WEEK + WHOLE.forecast[:3]  # gone by, and still only chances
    assert [seen.rain_mm for seen in view.forecast] == [None] * 7
    assert [seen.et0_mm for seen in view.forecast] == [6.0] * 7
    assert view.as_of == WHOLE.as_of  # so that a reply can tell the age


@pytest.mark.parametrize(("days", "left"), [(0, 10), (1, 9), (9, 1), (10, 0), (11, 0)])
def test_an_old_forecast_serves_ten_days_at_most(days: int, left: int) -> None:
    later = ON + timedelta(days=days)
    assert len([seen for seen in aged(WHOLE, later).forecast if seen.on >= later]) == left


def test_a_longer_forecast_is_cut_after_ten_days() -> None:
    long = Weather(forecast=tuple(day(ahead, 0.0, 0.0) for ahead in range(16)), as_of=WHOLE.as_of)
    for days, left in ((10, 6), (11, 0)):
        later = ON + timedelta(days=days)
        assert len([seen for seen in aged(long, later).forecast if seen.on >= later]) == left


def test_days_behind_are_remembered_beyond_what_a_service_gives_for_sixty_days(clock: Clock) -> None:
    service = Fake(WHOLE)
    feed = feed_of(clock, service)
    feed.view(*PLACE, ON)
    later = ON + timedelta(days=20)
    clock.go(days=20)
    service.answer = Weather(past=tuple(day(20 - back) for back in range(7, 0, -1)), forecast=(day(20, 0.0, 0.1),))
    assert feed.view(*PLACE, later).past[:7] == PAST_WEEK
    clock.go(days=60)
    assert all(seen.on > ON for seen in feed.view(*PLACE, later + timedelta(days=60)).past)


def test_an_answer_outlasts_the_process_on_the_shelf(clock: Clock) -> None:
    shelf = MemoryShelf()
    CachedFeed([Fake(WHOLE)], shelf, clock).view(*PLACE, ON)
    silent = Fake(DOWN)
    assert CachedFeed([silent], shelf, clock).view(*PLACE, ON) == WHOLE
    assert silent.asked == []


def test_a_spoilt_answer_on_the_shelf_is_fetched_anew(clock: Clock) -> None:
    shelf = MemoryShelf()
    shelf.put("36.00,-96.00", clock(), '{"past": [')
    assert CachedFeed([Fake(WHOLE)], shelf, clock).view(*PLACE, ON) == WHOLE


def test_a_gap_is_asked_for_again_after_ten_minutes_and_not_before(clock: Clock) -> None:
    service = Fake(Weather(past=PAST_WEEK))
    feed = feed_of(clock, service)
    feed.view(*PLACE, ON)
    clock.go(minutes=9)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 1
    clock.go(minutes=2)
    feed.view(*PLACE, ON)
    assert len(service.asked) == 2


def test_the_first_service_leaves_time_for_the_next(clock: Clock) -> None:
    first, last = Fake(DOWN, name="first"), Fake(WHOLE, name="last")
    feed_of(clock, first, last, budget_s=8.0).view(*PLACE, ON)
    assert first.left_s == pytest.approx(4.0, abs=0.2)
    assert last.left_s == pytest.approx(8.0, abs=0.2)  # the first one failed at once


def test_two_people_at_once_cause_one_fetch(clock: Clock) -> None:
    service = Fake(WHOLE, wait_s=0.2)
    feed = feed_of(clock, service)
    views: list[Weather] = []
    threads = [threading.Thread(target=lambda: views.append(feed.view(*PLACE, ON))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert views == [WHOLE] * 4
    assert len(service.asked) == 1


def test_somebody_elses_slow_fetch_does_not_hold_a_reply_beyond_its_budget(clock: Clock) -> None:
    slow = Fake(WHOLE, wait_s=1.0)
    feed = feed_of(clock, slow, budget_s=0.1)
    other = threading.Thread(target=feed.view, args=(40.0, -96.0, ON))
    other.start()
    time.sleep(0.05)
    started = time.monotonic()
    assert feed.view(*PLACE, ON) == Weather()
    assert time.monotonic() - started < 0.6
    other.join()


def test_a_silent_service_costs_one_view_its_budget_and_the_next_nothing(services: Services, clock: Clock) -> None:
    services.give("/v1/forecast", Answer({}, wait_s=5.0))
    http = Http("desk@office.example", timeout_s=0.4, back_off_s=0.01)
    feed = CachedFeed([GlobeService(http, clock, services.url)], MemoryShelf(), clock, budget_s=0.6)
    started = time.monotonic()
    assert feed.view(*PLACE, ON) == Weather()
    first_s = time.monotonic() - started
    assert feed.view(*PLACE, ON) == Weather()
    assert first_s < 1.5
    assert time.monotonic() - started - first_s < 0.1
    http.close()


def test_the_real_services_join_into_one_view(http: Http, services: Services, clock: Clock) -> None:
    services.give("/points/36,-96", Answer(fixture("sample_nws_points.json")))
    services.give("/gridpoints/ZZZ/41,17", Answer(fixture("sample_nws_gridpoint.json")))
    services.give("/GridData", Answer(fixture("sample_acis.json")["GridData"]["response"]))
    services.give("/v1/forecast", Answer(fixture("sample_openmeteo.json")))
    choices = [
        NationalForecast(http, clock, services.url),
        ObservedGrid(http, services.url),
        GlobeService(http, clock, services.url),
    ]
    view = CachedFeed(choices, MemoryShelf(), clock).view(*PLACE, ON)
    assert services.paths() == ["/points/36,-96", "/gridpoints/ZZZ/41,17", "/GridData", "/v1/forecast"]
    assert view.source == "nws; acis; globe"
    assert view.past[-1].rain_mm == 0.9  # 21 July is -999 in the grid; Open-Meteo's sample has 0.9
    assert view.past[-2].tmax_c == pytest.approx((93 - 32) / 1.8)  # 20 July's afternoon is filed under the 21st
    assert view.forecast[2].pop == pytest.approx(0.77)  # the National Weather Service's, not Open-Meteo's 0.93
    assert view.forecast[9].rain_mm == 3.1  # beyond its seven days, Open-Meteo's


def test_a_view_is_the_same_from_the_shelf_as_when_it_was_fetched(http: Http, services: Services, clock: Clock) -> None:
    services.give("/v1/forecast", Answer(fixture("sample_openmeteo.json")))
    service = GlobeService(http, clock, services.url)
    feed = CachedFeed([service], MemoryShelf(), clock)
    assert feed.view(*PLACE, ON) == service.fetch(*PLACE, ON)


def test_every_feed_is_a_feed(clock: Clock) -> None:
    feeds: list[Feed] = [FileFeed(None), open_feed("desk@office.example", MemoryShelf(), clock)]
    assert feeds[0].view(*PLACE, ON) == feeds[1].view(None, None, ON) == Weather()
