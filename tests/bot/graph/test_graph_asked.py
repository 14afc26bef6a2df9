"""GRAPH by text: the story for every channel, and the picture for those that can carry it."""

import json
from datetime import datetime
from pathlib import Path

import pytest

from bot.line import Message, open_line
from bot.replay import played

TALKS = Path(__file__).parents[2] / "talks"
NOW = datetime(2026, 7, 14, 8, 3)
TOLD = ("peaches 45 cb at 12 in", "39.9, -105.1", "loam", "rate 0.3 in/h", "peaches watered 2 hours yesterday")


def asked(*texts: str, channel: str = "telegram", told: tuple[str, ...] = TOLD) -> list:
    line = open_line(None, None, lambda: NOW)
    for text in told:
        line.receive(Message(channel=channel, sender="+15550117", text=text))
    return [reply for text in texts for reply in line.receive(Message(channel=channel, sender="+15550117", text=text))]


@pytest.mark.parametrize("text", ["graph", "graph peaches", "show me the graph"])
def test_a_graph_comes_with_its_story_and_one_line(text):
    (reply,) = asked(text)
    assert reply.picture.draw().startswith(b"\x89PNG")
    assert reply.picture.alt.startswith("peaches: ")
    assert reply.text.startswith("peaches: ")
    assert (reply.verdict, reply.plot) != (None, None)


def test_it_speaks_spanish_with_all_its_accents_where_the_channel_has_them():
    told = ("duraznos 45 cb a 30 cm", "39.9, -105.1", "franco", "goteo")
    *_, reply = asked("gráfica", told=told)
    assert "límite" in reply.picture.alt
    assert "límite" in reply.text


def test_by_sms_the_story_is_the_answer():
    (reply,) = asked("graph", channel="sms")
    assert reply.segments <= 2
    assert "of the water left" in reply.text


@pytest.mark.parametrize(("channel", "pictured"), [("telegram", True), ("sms", False), ("web", False)])
def test_a_letter_carries_the_picture_where_its_channel_can(channel, pictured):
    line = open_line(None, None, lambda: NOW)
    for text in (*TOLD, "graph"):
        line.take(Message(channel=channel, sender="+15550117", text=text))
    *_, letter = line.store.outbox.due(channel, NOW, at_most=100)
    picture = line.post.picture(letter)
    assert (picture is not None, letter.alt.startswith("peaches: ")) == (pictured, pictured)
    assert (picture or b"").startswith(b"\x89PNG") == pictured
    assert letter.text.startswith("peaches: ")


def test_more_plots_than_pictures_are_told_of():
    more = ("pears 50 cb at 12 in", "apples 40 cb at 12 in", "plums 30 cb at 12 in")
    replies = asked("graph", told=(*TOLD, *more))
    assert sum(reply.picture is not None for reply in replies) == 3
    assert "send GRAPH and its name" in replies[-1].text


def test_nothing_told_yet_has_nothing_to_draw():
    replies = asked("graph", told=())
    assert all(reply.picture is None for reply in replies)
    assert any("nothing to draw yet" in reply.text for reply in replies)


def test_several_plots_have_a_picture_each():
    replies = asked("graph", told=(*TOLD, "pears 50 cb at 12 in", "loam"))
    assert [reply.picture.alt.split(":")[0] for reply in replies if reply.picture] == ["peaches", "pears"]


def test_why_after_a_graph_is_of_the_advice_behind_it():
    *_, why = asked("graph", "why")
    assert "loam" in why.text


def test_a_replay_counts_the_images():
    talk = json.loads((TALKS / "requests.json").read_text())
    talk["turns"] = [*talk["turns"][:4], {"at": "2026-07-14T08:20", "from": "+15550117", "text": "graph"}]
    last = json.loads(list(played(talk, as_json=True, with_state=False))[-1])
    assert (last["images"], "picture" in last) == (1, False)
    assert last["plot"] == "peaches"
