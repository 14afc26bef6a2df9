"""The help desk: one colleague a call, nobody answered twice, nothing internal sent out, and dropline silent meanwhile."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from office_desk import ANN, BEN, Browser, Desk, key

from bot.desks import desk_for
from bot.message import Message
from bot.store import Letter
from rules.terms import Plot


def post(office: Desk) -> list[Letter]:
    return office.line.post.due("sms", 100)


def write(browser: Browser, person: int, text: str, **more: str) -> str:
    page = browser.get(f"/office/people/{person}")
    return browser.post(f"/office/people/{person}/write", "/office", text=text, **{"key": key(page)} | more).text


def call_of(office: Desk, sender: str = ANN) -> int:
    call = office.line.store.calls.of(office.line.store.people.by_id(office.person(sender)))
    assert call is not None
    return call.id


def calls_a_person(office: Desk, sender: str = ANN) -> int:
    """Somebody handed over; the id of the person."""
    office.texts("tomatoes 45 cb at 12 in", sender)
    office.texts("can I talk to a person", sender)
    return office.person(sender)


def take(browser: Browser, call: int) -> None:
    browser.post(f"/office/desk/{call}", "/office", do="take")


def test_of_two_who_open_a_call_the_second_sees_that_it_is_taken(office: Desk) -> None:
    person = calls_a_person(office)
    ines, sol = office.browser("Ines"), office.browser("Sol", "specialist")
    take(ines, call_of(office))
    take(sol, call_of(office))
    assert "Ines was faster" in sol.get(f"/office/people/{person}")
    assert "<b>Ines</b> has it." in sol.get(f"/office/people/{person}")


def test_nobody_is_answered_twice(office: Desk) -> None:
    person = calls_a_person(office)
    ines, sol = office.browser("Ines"), office.browser("Sol", "specialist")
    stale = key(sol.get(f"/office/people/{person}"))
    write(ines, person, "Hello, this is Ines.")
    response = sol.post(f"/office/people/{person}/write", "/office", text="Hello, this is Sol.", key=stale)
    assert response.status_code == 409
    assert [letter.text for letter in post(office)] == ["Sage County water desk staff: Hello, this is Ines."]


def test_one_press_of_the_button_sends_one_text_however_often_it_arrives(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    once = key(ines.get(f"/office/people/{person}"))
    for _ in range(3):
        ines.post(f"/office/people/{person}/write", "/office", text="Hello.", key=once)
    assert len(post(office)) == 1


def test_while_a_colleague_has_the_talk_dropline_is_silent_and_the_desk_gets_the_texts(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    take(ines, call_of(office))
    write(ines, person, "How much did you water?")
    assert office.texts("30 cb at 12 in, I think") == []
    call = office.line.store.calls.by_id(call_of(office))
    assert call is not None
    assert (call.state, call.waits_since) == ("taken", office.clock())
    assert "30 cb at 12 in, I think" in ines.get("/office/desk")
    ines.post(f"/office/desk/{call.id}", "/office", do="speak")
    assert office.texts("30 cb at 12 in") != []


@pytest.mark.parametrize("words", ["STOP", "HELP", "got a shock from the pump"])
def test_stop_help_and_danger_are_answered_also_while_dropline_is_silent(office: Desk, words: str) -> None:
    calls_a_person(office)
    take(office.browser("Ines"), call_of(office))
    assert len(office.texts(words)) == 1


def test_a_closed_call_gives_the_talk_back_and_stands_under_done(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    take(ines, call_of(office))
    ines.post(f"/office/desk/{call_of(office)}", "/office", do="close")
    assert office.line.store.calls.of(office.line.store.people.by_id(person)) is None
    assert office.texts("45 cb at 12 in") != []
    assert "asked for a person" in ines.get("/office/desk?state=done")


def test_a_colleague_takes_a_talk_over_without_a_call(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    person = office.person()
    office.browser("Ines").post(f"/office/people/{person}/take", "/office")
    assert office.texts("watered 20 min") == []


def test_a_note_is_never_sent(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    ines.post(f"/office/desk/{call_of(office)}/note", "/office", note="sounds angry, go easy")
    assert "sounds angry, go easy" in ines.get(f"/office/people/{person}")
    assert post(office) == []
    assert not any(
        "angry" in each.text for each in office.line.store.messages.of(office.line.store.people.by_id(person))
    )


def test_only_the_holder_moves_a_call_but_a_specialist_may_free_it(office: Desk) -> None:
    calls_a_person(office)
    ines, walt, sol = office.browser("Ines"), office.browser("Walt", "helper"), office.browser("Sol", "specialist")
    call = call_of(office)
    take(ines, call)
    for do in ("close", "give", "speak"):
        walt.post(f"/office/desk/{call}", "/office", do=do)
    held = office.line.store.calls.by_id(call)
    assert held is not None
    assert (held.state, held.taken_by, held.silent) == ("taken", "Ines", True)
    sol.post(f"/office/desk/{call}", "/office", do="give")
    freed = office.line.store.calls.by_id(call)
    assert freed is not None
    assert (freed.state, freed.taken_by, freed.silent) == ("open", None, False)


def test_a_second_reason_waits_in_the_same_call(office: Desk) -> None:
    calls_a_person(office)
    first = call_of(office)
    office.texts("got a shock from the pump")
    call = office.line.store.calls.by_id(first)
    assert call is not None
    assert call_of(office) == first
    assert call.urgent
    assert len(office.line.store.calls.not_done()) == 1


def test_urgent_calls_come_first_then_those_that_wait_longest(office: Desk) -> None:
    calls_a_person(office, ANN)
    office.clock.now += timedelta(hours=1)
    calls_a_person(office, BEN)
    office.clock.now += timedelta(hours=1)
    office.texts("got a shock from the pump", "+15550109")
    rows = office.line.store.overview.calls()
    assert [row.address[-4:] for row in rows] == ["0109", "0101", "0102"]
    assert "waits 2 h" in office.browser("Ines").get("/office/desk")


@pytest.mark.parametrize(
    ("language", "plots", "text", "desk"),
    [
        ("en", [], "my tomatoes look sad", "volunteer"),
        ("en", [], "40 trees, sell at market", "farm"),
        ("en", [Plot(count=40.0)], "leaves curl", "farm"),
        ("en", [], "we have 12 acres of hay", "farm"),
        ("es", [Plot(count=40.0)], "se ven mal", "spanish"),
        ("en", [], "I bought a tree at the market", "volunteer"),
    ],
)
def test_each_call_begins_on_its_desk(language: str, plots: list[Plot], text: str, desk: str) -> None:
    assert desk_for(language, plots, [text]) == desk


def test_a_grower_lands_on_the_farm_desk_and_not_with_the_volunteers(office: Desk) -> None:
    office.texts("40 trees, sell at market")
    office.texts("can I talk to a person")
    volunteer = office.browser("Walt", "helper", desks=("volunteer",))
    farm = office.browser("Flora", "helper", desks=("farm",))
    assert "asked for a person" not in volunteer.get("/office/desk")
    assert "asked for a person" in farm.get("/office/desk")
    volunteer.post(f"/office/desk/{call_of(office)}", "/office", do="take")
    assert volunteer.status == 403
    farm.post(f"/office/desk/{call_of(office)}", "/office", do="move", desk="volunteer")
    assert "asked for a person" in volunteer.get("/office/desk")


def test_a_long_text_goes_out_only_after_its_cost_was_seen(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    long = "Look at the soil a hand deep before you water again, and tell us how it feels. " * 3
    assert "goes out as 2 texts" in write(ines, person, long)
    assert post(office) == []
    write(ines, person, long, agreed="2")
    assert len(post(office)) == 1


def test_a_text_that_no_message_holds_is_refused_whole(office: Desk) -> None:
    person = calls_a_person(office)
    write(office.browser("Ines"), person, "water " * 100, agreed="4")
    assert post(office) == []


def test_the_length_is_told_while_it_is_written(office: Desk) -> None:
    person = calls_a_person(office)
    browser = office.browser("Ines")
    says = browser.post(f"/office/people/{person}/length", "/office", text="Hello").json
    assert says == {"says": "One text. Goes out as: Sage County water desk staff: Hello"}


def test_nobody_who_said_stop_is_written_to(office: Desk) -> None:
    person = calls_a_person(office)
    office.texts("STOP")
    write(office.browser("Ines"), person, "One more thing.")
    assert post(office) == []


def test_a_staff_text_is_in_the_conversation_with_who_wrote_it(office: Desk) -> None:
    person = calls_a_person(office)
    ines = office.browser("Ines")
    write(ines, person, "Hello there.")
    page = ines.get(f"/office/people/{person}")
    assert "Sage County water desk staff: Hello there." in page
    assert "Ines for the office" in page


KEPT = {
    "title": "Look again",
    "en": "Look at {plot} again {look_again}. {phone}",
    "es": "Mire {plot} otra vez {look_again}. {phone}",
    "expires_on": "2032-07-01",
}


def test_an_answer_kept_ready_fills_its_blanks_from_the_plot_in_the_persons_language(office: Desk) -> None:
    office.texts("duraznos 20 centibares a 12 pulgadas, gracias")
    office.texts("necesito una persona por favor")
    sol = office.browser("Sol", "specialist")
    assert sol.post("/office/answers", "/office/answers", **KEPT).status_code == 303
    page = sol.get(f"/office/people/{office.person()}?answer=1")
    assert "Mire duraznos otra vez " in page
    assert "555-0142</textarea>" in page


def test_a_blank_left_open_stops_sending(office: Desk) -> None:
    office.texts("hi")
    office.texts("can I talk to a person")
    sol = office.browser("Sol", "specialist")
    sol.post("/office/answers", "/office/answers", **KEPT)
    page = sol.get(f"/office/people/{office.person()}?answer=1")
    assert "Look at {plot} again {look_again}. 555-0142</textarea>" in page
    assert "Fill in {plot}, {look_again} first." in write(sol, office.person(), "Look at {plot} again {look_again}.")
    assert post(office) == []


def test_an_answer_past_its_day_warns(office: Desk) -> None:
    calls_a_person(office)
    sol = office.browser("Sol", "specialist")
    sol.post("/office/answers", "/office/answers", **KEPT | {"expires_on": "2031-07-01"})
    page = sol.get(f"/office/people/{office.person()}?answer=1")
    assert "(out of date)" in page
    assert "That answer ended on" in page


@pytest.mark.parametrize(
    "wrong", [{"title": ""}, {"es": ""}, {"en": "{nonsense}"}, {"expires_on": "soon"}, {"en": "x" * 500}]
)
def test_an_answer_that_can_not_be_used_is_not_kept(office: Desk, wrong: dict[str, str]) -> None:
    sol = office.browser("Sol", "specialist")
    assert sol.post("/office/answers", "/office/answers", **KEPT | wrong).status_code == 400
    assert office.line.store.canned.all() == []


def test_an_answer_is_changed_and_dropped_by_name(office: Desk) -> None:
    sol = office.browser("Sol", "specialist")
    sol.post("/office/answers", "/office/answers", **KEPT)
    sol.post("/office/answers", "/office/answers", id="1", **KEPT | {"en": "Other words."})
    (kept,) = office.line.store.canned.all()
    assert (kept.en, kept.by, kept.expires_on) == ("Other words.", "Sol", date(2032, 7, 1))
    sol.post("/office/answers", "/office/answers", id="1", do="drop")
    assert office.line.store.canned.all() == []


LOGGED = {"origin": "phone", "reason": "brown lawn", "said": "waters daily", "desk": "volunteer", "number": "555-0107"}


def test_a_telephone_call_is_a_call_like_any_other(office: Desk) -> None:
    ines = office.browser("Ines")
    assert ines.post("/office/desk/log", "/office/desk/log", **LOGGED).status_code == 303
    page = ines.get("/office/desk")
    assert "brown lawn" in page
    assert "telephone" in page
    (call,) = office.line.store.calls.not_done()
    assert call.origin == "phone"
    assert "there is no text to answer" in ines.get(f"/office/people/{call.person}")


def test_a_telephone_call_from_a_number_that_texts_goes_to_its_page(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in", "+14065550107")
    ines = office.browser("Ines")
    ines.post("/office/desk/log", "/office/desk/log", **LOGGED | {"number": "(406) 555-0107", "done": "1"})
    person = office.line.store.people.known("sms", "+14065550107")
    assert person is not None
    (call,) = office.line.store.calls.all_of(person)
    assert (call.state, call.reason) == ("done", "brown lawn")


def test_two_walk_ins_without_a_number_are_two_people(office: Desk) -> None:
    ines = office.browser("Ines")
    for reason in ("brown lawn", "sad roses"):
        ines.post(
            "/office/desk/log", "/office/desk/log", **LOGGED | {"origin": "visit", "number": "", "reason": reason}
        )
        office.clock.now += timedelta(seconds=1)
    assert len({call.person for call in office.line.store.calls.not_done()}) == 2


def test_a_photo_while_a_colleague_has_the_talk_goes_to_the_desk_alone(office: Desk) -> None:
    calls_a_person(office)
    take(office.browser("Ines"), call_of(office))
    assert office.line.receive(Message(channel="sms", sender=ANN, text="", media="photo:1")) == []


def test_a_call_moved_to_the_tree_or_the_water_desk_is_seen_by_who_sits_there(office: Desk) -> None:
    office.texts("I want to talk to a person")
    (call,) = office.line.store.calls.not_done()
    rosa = office.browser("rosa", "specialist")
    for name in ("tree", "water"):
        seated = office.browser(f"{name} colleague", "helper", desks=(name,))
        assert "Nobody waits" in seated.get("/office")
        page = f"/office/people/{call.person}"
        rosa.post(f"/office/desk/{call.id}", page, do="move", desk=name)
        assert "Nobody waits" not in seated.get("/office")
