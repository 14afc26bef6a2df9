"""People on Telegram, from the first tap to the last: the real library against a service that runs here."""

from __future__ import annotations

from telegram_town import ANN, BEN, CLUB, Town


def test_a_plot_is_set_up_with_buttons_alone(town: Town) -> None:
    assert "Like tomatoes, lawn or young tree" in town.talk(ANN, "/start").text
    place = town.talk(ANN, "tomatoes")
    assert place.keyboard is not None
    assert place.keyboard[0] == [{"text": "I'm there now: send the spot", "request_location": True}]
    before = len(town.api.to(ANN))
    soil = town.answer(town.sends(ANN, location={"latitude": 36.1234, "longitude": -97.0512}), ANN, before)
    assert "place 36.12, -97.05" in soil.text
    assert "What soil is it: sand / sandy loam / loam" in soil.text
    assert soil.buttons[:3] == ["sand", "sandy loam", "loam"]
    method = town.talk(ANN, "sandy loam")
    assert "soil sandy loam" in method.text
    feel = town.talk(ANN, "drip")
    assert feel.text.startswith("WATER tomatoes")
    assert feel.buttons == ["A wets the hand", "B firm ball", "C weak ball", "D dry", "SKIP"]
    done = town.talk(ANN, "B firm ball")
    assert "feels moist (B)" in done.text
    assert done.removes_keyboard
    assert town.record(ANN) == [("reading", "moist")]


def test_every_button_of_every_question_is_read(town: Town) -> None:
    town.talk(ANN, "lawn")
    town.talk(ANN, "SKIP")
    asked = town.talk(ANN, "not sure, help me feel it")
    for tapped in ("yes", "yes", "from 1 in to 2 in", "a bit of both"):
        assert tapped in asked.buttons
        asked = town.talk(ANN, tapped)
    assert "soil clay loam" in asked.text  # medium ribbon, neither gritty nor smooth: the tree's own answer
    assert "could not read" not in " ".join(each.text for each in town.api.to(ANN))


def test_a_reading_is_answered_and_why_is_told(town: Town) -> None:
    assert town.talk(ANN, "tomatoes 60 cb at 12 in, sandy loam").text.startswith("WATER tomatoes")
    assert "sandy loam holds" in town.talk(ANN, "/why").text


def test_spanish_has_all_its_accents(town: Town) -> None:
    asked = town.talk(ANN, "jitomates 45 cb a 30 cm, tierra franca", language="es-MX")
    assert "¿Dónde queda? Mande el código postal" in asked.text
    assert asked.buttons == ["Estoy ahí: mandar el lugar", "SALTAR"]


def test_the_language_of_the_telephone_is_a_guess_that_words_set_right(town: Town) -> None:
    assert "Por ejemplo tomate" in town.talk(ANN, "/start", language="es").text
    assert "Where is it?" in town.talk(ANN, "I have a small lawn here", language="es").text
    assert "What soil is it" in town.talk(ANN, "SKIP", language="es").text


def test_the_language_can_be_chosen_by_button(town: Town) -> None:
    asked = town.talk(ANN, "/language")
    assert asked.buttons == ["English", "Español"]
    assert "idioma español" in town.talk(ANN, "Español").text
    assert "Diga cómo anda la tierra" in town.talk(ANN, "/help").text


def test_what_is_kept_is_told_and_can_be_erased(town: Town) -> None:
    town.talk(ANN, "tomatoes 60 cb at 12 in")
    assert "FORGET erases it" in town.talk(ANN, "/privacy").text
    assert "OLVIDAR para borrarlo" in town.talk(BEN, "/privacy", language="es").text
    assert "1 plot and 1 entry" in town.talk(ANN, "/export").text
    assert "FORGET YES" in town.talk(ANN, "/forget").buttons
    before = len(town.api.to(ANN))
    town.writes(ANN, "FORGET YES")
    assert "erased" in town.heard(ANN, before + 1)[-1].text
    assert town.line.store.people.known("telegram", str(ANN)) is None


def test_an_edit_takes_the_place_of_what_it_changes(town: Town) -> None:
    town.talk(ANN, "/help")
    before = len(town.api.to(ANN))
    first = town.writes(ANN, "tomatoes 45 cb at 12 in")
    town.answer(first, ANN, before)
    town.edits(ANN, first, "tomatoes 54 cb at 12 in")
    town.settled()
    assert "Fixed: tomatoes on Tue Jul 14: 54 cb at 12 in" in town.api.to(ANN)[-1].text
    assert town.record(ANN) == [("reading", 54.0)]
    said = len(town.api.to(ANN))
    town.edits(ANN, first, "Tomatoes 54 cb at 12 in")
    town.settled()
    assert len(town.api.to(ANN)) == said


def test_after_stop_nothing_is_sent_until_start(town: Town) -> None:
    town.talk(ANN, "tomatoes 60 cb at 12 in")
    assert "START brings it back" in town.talk(ANN, "/stop").text
    before = len(town.api.to(ANN))
    town.writes(ANN, "tomatoes 70 cb at 12 in")
    town.settled()
    assert len(town.api.to(ANN)) == before
    assert "Good to have you back" in town.talk(ANN, "/start").text


def test_what_only_a_person_can_judge_is_passed_on(town: Town) -> None:
    photo = [{"file_id": size, "file_unique_id": size, "width": 90, "height": 90} for size in ("small", "large")]
    town.talk(ANN, "/help")
    before = len(town.api.to(ANN))
    said = town.answer(town.sends(ANN, photo=photo), ANN, before)
    assert "A colleague will look" in said.text
    person = town.line.store.people.known("telegram", str(ANN))
    assert person is not None
    assert town.line.store.messages.of(person)[-1].media == "photo:large"


def test_the_pictures_of_an_album_get_one_answer(town: Town) -> None:
    town.talk(ANN, "/help")
    before = len(town.api.to(ANN))
    for number in range(3):
        size = {"file_id": f"p{number}", "file_unique_id": f"p{number}", "width": 90, "height": 90}
        town.sends(ANN, photo=[size], media_group_id="album")
    town.settled()
    assert len(town.api.to(ANN)) == before + 1


def test_a_group_is_told_once_to_write_alone(town: Town) -> None:
    for text in ("hello all", "tomatoes 60 cb at 12 in", "/start@dry_fork_desk_bot"):
        town.writes(CLUB, text)
    town.settled()
    assert [each.text for each in town.api.to(CLUB)] == [
        "I can't advise a whole group. Please write to me alone: tap my name, then Message."
    ]
    assert town.line.store.people.known("telegram", str(CLUB)) is None


def test_commands_are_in_the_menu_in_both_languages(town: Town) -> None:
    town.talk(ANN, "/help")
    assert {each["command"] for each in town.api.commands[""]} >= {"start", "help", "stop", "forget", "privacy"}
    assert [each["command"] for each in town.api.commands["es"]] == [each["command"] for each in town.api.commands[""]]


def test_one_persons_words_go_to_nobody_else(town: Town) -> None:
    town.talk(ANN, "tomatoes 60 cb at 12 in")
    town.talk(BEN, "lawn")
    assert not any("tomatoes:" in each.text for each in town.api.to(BEN))
