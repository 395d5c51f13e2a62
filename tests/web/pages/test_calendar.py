"""The calendar on the pages: an address that is shown once, and what a calendar program reads there."""

from __future__ import annotations

import vobject


def made(browser):
    page = browser.submit("/account/calendar")
    assert page.status == 201
    address = page.tree.find(".//p[@class='code__address']").text
    return address.removeprefix("http://localhost")


def events(page):
    assert page.status == 200
    assert page.headers["Content-Type"] == "text/calendar; charset=utf-8"
    return vobject.readOne(page.text).contents.get("vevent", [])


def test_a_calendar_program_reads_the_due_dates_without_signing_in(client, client_of, given):
    work = given.work(title="Offsets; for Friday, please")
    address = made(client_of("learner"))

    (event,) = events(client.get(address))

    assert event.summary.value == "Due: Offsets; for Friday, please (Tuesday evening)"
    assert event.url.value == f"http://localhost/work/{work}"
    # 11:59 pm in Chicago, in winter.
    assert event.dtstart.value.isoformat() == "2026-11-29T05:59:00+00:00"
    assert event.uid.value == f"due-{work}@tubing-trainer.invalid"
    assert "of each question the best first answer without a hint counts" in event.description.value


def test_work_in_the_room_stands_on_its_day_without_an_hour(client, client_of, given):
    given.work(kind="room")

    (event,) = events(client.get(made(client_of("learner"))))

    assert event.dtstart.value.isoformat() == "2026-11-28"
    assert "all together" in event.description.value


def test_a_leader_s_dates_lead_to_what_came_of_them(client, client_of, given):
    work = given.work()

    (event,) = events(client.get(made(client_of("instructor"))))

    assert event.url.value == f"http://localhost/given/{work}"


def test_work_that_is_taken_back_is_gone_at_the_next_fetch(client, client_of, given):
    work = given.work()
    address = made(client_of("learner"))
    client_of("instructor").submit(f"/given/{work}/withdraw")

    assert events(client.get(address)) == []


def test_an_address_is_ended_or_replaced(client, client_of):
    browser = client_of("learner")
    first = made(browser)
    second = made(browser)
    assert client.get(first).status == 404
    assert client.get(second).status == 200
    assert "An address was made" in browser.get("/account/calendar").words

    browser.submit("/account/calendar", action="/account/calendar/end")

    assert client.get(second).status == 404
    assert "Make the address" in browser.get("/account/calendar").words


def test_it_says_beforehand_all_that_whoever_has_the_address_can_read(client, client_of, given):
    given.work()
    learner = client_of("learner")
    said = learner.get("/account/calendar").words
    read = client.get(made(learner)).text

    assert "Offsets for Friday" in read
    assert "Tuesday evening" in read
    assert "titles and dates of your work, how it is done, and the names of your classes and crews" in said


def test_the_page_that_shows_the_address_is_kept_by_no_browser(client_of):
    page = client_of("learner").submit("/account/calendar")

    assert page.headers["Cache-Control"] == "no-store"
