"""Who gets in: nobody without an account, and nobody by a forged form, a replayed token or a thousand tries."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from office_desk import ANN, PASSWORD, Desk, token

from bot.office.routes import ROUTES


def paths() -> list[tuple[str, str]]:
    """Every route with its blanks filled: a number is 1, of several words the first."""
    rules = [re.sub(r"<int:\w+>", "1", route.rule) for route in ROUTES]
    rules = [re.sub(r"<any\((\w+).*?>", r"\1", rule) for rule in rules]
    return [(route.method, "/office" + re.sub(r"<\w+>", "x", rule)) for route, rule in zip(ROUTES, rules, strict=True)]


@pytest.mark.parametrize(("method", "path"), paths())
def test_without_a_login_every_page_and_form_leads_to_the_login(county: Desk, method: str, path: str) -> None:
    response = county.app.test_client().open(path, method=method)
    assert response.status_code == 303
    assert response.headers["Location"].startswith("/office/login")


def test_the_routes_are_all_that_the_office_serves(county: Desk) -> None:
    served = {rule.endpoint for rule in county.app.url_map.iter_rules() if rule.endpoint.startswith("office.")}
    public = {"office.login", "office.log_in", "office.static"}
    assert served - public == {f"office.{route.view.__name__}" for route in ROUTES}


def test_a_colleague_logs_in_sees_today_and_logs_out(office: Desk) -> None:
    browser = office.browser("Ines")
    assert "Need an answer from a person" in browser.get("/office")
    browser.post("/office/logout", "/office")
    browser.get("/office")
    assert browser.status == 303


@pytest.mark.parametrize("name", ["Ines", "nobody"])
def test_a_wrong_password_and_a_name_that_is_not_there_are_told_alike(office: Desk, name: str) -> None:
    office.browser("Ines")
    browser = office.browser()
    response = browser.log_in(name, "not the password")
    assert response.status_code == 401
    assert "Name and password don&#39;t fit each other." in response.text


def test_after_five_wrong_passwords_the_right_one_waits_a_quarter_of_an_hour(office: Desk) -> None:
    office.browser("Ines")
    browser = office.browser()
    for _ in range(5):
        browser.log_in("Ines", "wrong")
    assert browser.log_in("Ines").status_code == 429
    office.clock.now += timedelta(minutes=16)
    assert browser.log_in("Ines").status_code == 303


def test_a_login_form_without_its_own_token_does_nothing(office: Desk) -> None:
    office.browser("Ines")
    client = office.app.test_client()
    response = client.post("/office/login", data={"name": "Ines", "password": PASSWORD, "csrf": "made up"})
    assert response.status_code == 400


def test_the_cookie_of_somebody_who_logged_out_opens_nothing(office: Desk) -> None:
    browser = office.browser("Ines")
    kept = browser.client.get_cookie("dropline_office", path="/office")
    assert kept is not None
    browser.post("/office/logout", "/office")
    thief = office.app.test_client()
    thief.set_cookie("dropline_office", kept.value, path="/office")
    assert thief.get("/office").status_code == 303


def test_a_sitting_ends_after_a_shift_without_use(office: Desk) -> None:
    browser = office.browser("Ines")
    office.clock.now += timedelta(hours=11)
    browser.get("/office")
    assert browser.status == 200
    office.clock.now += timedelta(hours=13)
    browser.get("/office")
    assert browser.status == 303


def test_the_cookie_is_out_of_reach_of_scripts_and_of_other_sites(office: Desk) -> None:
    browser = office.browser()
    office.browser("Ines")
    cookie = next(each for each in browser.log_in("Ines").headers.getlist("Set-Cookie") if "dropline_office" in each)
    assert {"HttpOnly", "SameSite=Lax", "Path=/office"} <= set(cookie.split("; "))


@pytest.mark.parametrize(
    "there", ["https://elsewhere.example/office", "//elsewhere.example", "/office/../x//y", "\\\\x"]
)
def test_after_the_login_nobody_is_sent_elsewhere(office: Desk, there: str) -> None:
    office.browser("Ines")
    browser = office.browser()
    page = browser.get("/office/login")
    fields = {"csrf": token(page), "name": "Ines", "password": PASSWORD, "next": there}
    assert browser.client.post("/office/login", data=fields).headers["Location"] == "/office"


def test_passwords_are_kept_as_argon2id_and_tokens_as_hashes(office: Desk) -> None:
    browser = office.browser("Ines")
    colleague = office.line.store.staff.named("Ines")
    assert colleague is not None
    assert colleague.password.startswith("$argon2id$")
    cookie = browser.client.get_cookie("dropline_office", path="/office")
    assert cookie is not None
    rows = office.line.store._database.rows("SELECT token FROM sittings")
    assert [row["token"] for row in rows if row["token"] == cookie.value] == []
    assert len(rows) == 1


def test_a_keeper_makes_an_account_whose_owner_changes_the_password(office: Desk) -> None:
    keeper = office.browser("Ines")
    made = keeper.post(
        "/office/accounts", "/office/accounts", name="Walt", role="helper", password="first four words here"
    )
    assert made.status_code == 303
    walt = office.browser()
    assert walt.log_in("Walt", "first four words here").status_code == 303
    fields = {"old": "first four words here", "password": "then four other words"}
    assert walt.post("/office/account", "/office/account", **fields).headers["Location"] == "/office/login"
    assert walt.log_in("Walt", "first four words here").status_code == 401
    assert walt.log_in("Walt", "then four other words").status_code == 303


def test_a_short_password_makes_no_account(office: Desk) -> None:
    keeper = office.browser("Ines")
    response = keeper.post("/office/accounts", "/office/accounts", name="Walt", role="helper", password="short")
    assert response.status_code == 400
    assert office.line.store.staff.named("Walt") is None


def test_an_account_that_ended_is_out_at_once(office: Desk) -> None:
    keeper, walt = office.browser("Ines"), office.browser("Walt", "helper")
    colleague = office.line.store.staff.named("Walt")
    assert colleague is not None
    keeper.post(f"/office/accounts/{colleague.id}", "/office/accounts", do="end")
    walt.get("/office")
    assert walt.status == 303
    assert walt.log_in("Walt").status_code == 401


def test_the_trail_tells_who_did_what(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    browser = office.browser("Ines")
    browser.post(f"/office/people/{office.person()}/number", "/office")
    deeds = [(each.by, each.deed, each.person) for each in office.line.store.deeds.last(10)]
    assert deeds == [("Ines", "looked at the whole number", office.person()), ("Ines", "logged in", None)]
    assert "looked at the whole number" in browser.get("/office/trail")


def test_a_number_is_masked_until_it_is_asked_for(office: Desk) -> None:
    office.texts("tomatoes 45 cb at 12 in")
    browser = office.browser("Ines")
    for path in ("/office", "/office/people", f"/office/people/{office.person()}"):
        assert ANN not in browser.get(path)
    assert ANN in browser.post(f"/office/people/{office.person()}/number", "/office").text
