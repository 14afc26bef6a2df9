"""Letters as Telegram takes them: not too long, at the right pace, with pictures and buttons where they belong."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from telegram import ReplyKeyboardMarkup, ReplyKeyboardRemove
from telegram_town import ANN, Town

from bot.channels.telegram.letters import parted, pieces
from bot.channels.telegram.pace import Pace
from bot.store import Letter

PLAIN = Letter(
    id=1,
    channel="telegram",
    address="501",
    person=1,
    kind="answer",
    text="WAIT. peaches: look again Sat Jul 18.",
    language="en",
    asks=None,
    choices=(),
    advice=None,
    alt="",
    made_at=datetime(2026, 7, 14, 12),
    tries=0,
    problem=None,
)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("short", ["short"]),
        ("one line\nand another", ["one line", "and another"]),
        ("a sentence. And more", ["a sentence.", "And more"]),
        ("words and more words", ["words and more", "words"]),
        ("x" * 40, ["x" * 15, "x" * 15, "x" * 10]),
    ],
)
def test_a_long_text_is_parted_where_a_reader_would_pause(text: str, parts: list[str]) -> None:
    assert parted(text, 15) == parts


def test_no_part_is_longer_than_the_service_takes() -> None:
    """4096 characters of a text: core.telegram.org/bots/api, from memory."""
    text = " ".join(["Where the soil is dry, water."] * 500)
    parts = parted(text)
    assert max(map(len, parts)) <= 4096
    assert " ".join(parts) == text


def test_buttons_stand_under_the_last_piece_alone() -> None:
    made = pieces(replace(PLAIN, text="word " * 1500, choices=("sand", "loam", "SKIP")))
    assert [each.buttons is not None for each in made] == [False, True]
    assert isinstance(made[-1].buttons, ReplyKeyboardMarkup)


def test_short_answers_share_a_row_and_long_ones_stand_alone() -> None:
    choices = ("sand", "loam", "clay", "silt", "not sure, help me feel it", "SKIP")
    (made,) = pieces(replace(PLAIN, choices=choices))
    assert isinstance(made.buttons, ReplyKeyboardMarkup)
    rows = [[button.text for button in row] for row in made.buttons.keyboard]
    assert rows == [["sand", "loam", "clay"], ["silt"], ["not sure, help me feel it"], ["SKIP"]]


def test_an_answer_without_buttons_takes_the_old_ones_away_and_a_notice_leaves_them() -> None:
    assert isinstance(pieces(PLAIN)[0].buttons, ReplyKeyboardRemove)
    assert pieces(replace(PLAIN, kind="notice"))[0].buttons is None


def test_a_picture_has_its_words_below_it() -> None:
    (made,) = pieces(replace(PLAIN, alt="peaches: 61% left"), b"png")
    assert (made.picture, made.text) == (b"png", f"{PLAIN.text}\n\npeaches: 61% left")


def test_words_too_long_for_a_picture_follow_it() -> None:
    """1024 characters below a picture: core.telegram.org/bots/api, from memory."""
    story = "It rose from 18 to 61 in 9 days. " * 50
    picture, words = pieces(replace(PLAIN, text=story, alt="peaches: 61% left"), b"png")
    assert (picture.picture, picture.text) == (b"png", "peaches: 61% left")
    assert (words.picture, words.text) == (None, story)


def test_the_graph_comes_as_a_picture_with_its_story(town: Town) -> None:
    town.talk(ANN, "tomatoes 60 cb at 12 in, sandy loam")
    graph = town.talk(ANN, "/graph")
    assert graph.picture is not None
    assert graph.picture.startswith(b"\x89PNG")
    assert graph.text.startswith("tomatoes: ")
    assert "The last reading, 60 cb at 12 in today" in graph.text


def test_one_chat_waits_a_second_and_others_do_not_wait_for_it() -> None:
    """About one message a second in a chat: core.telegram.org/bots/faq, as quoted by others."""
    pace = Pace()
    pace.sent("501", 100.0)
    assert pace.wait_in_chat_s("501", 100.4) == pytest.approx(0.6)
    assert pace.wait_in_chat_s("502", 100.4) == 0
    assert pace.wait_in_chat_s("501", 101.0) == 0


def test_no_more_than_twenty_five_go_out_in_a_second() -> None:
    pace, now_s = Pace(), 0.0
    for chat in range(100):
        now_s += pace.wait_s(now_s)
        pace.sent(str(chat), now_s)
    assert now_s == pytest.approx(99 / 25)
