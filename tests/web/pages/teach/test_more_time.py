"""More time for one person: given with a day and a reason, seen by the learner."""

from __future__ import annotations

import pytest


@pytest.fixture
def time(given):
    return f"/given/{given.work('offset-shrink')}/time"


@pytest.fixture
def lena(given):
    return {"person": given.public_id("learner"), "ends_on": "2026-12-09", "reason": "On the road."}


def test_it_is_given_and_seen_on_both_sides(instructor, client_of, time, lena):
    assert instructor.submit(time, lena).status == 303

    assert "Learner Person until Wed, Dec 9, 2026: On the road." in instructor.get(time).words
    work = "/work/" + time.split("/")[2]
    assert "(more time for you)" in client_of("learner").get(work).words


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("person", "", "Choose who has more time."),
        ("ends_on", "soon", "Type a day as year, month and day"),
        ("ends_on", "2026-11-27", "a later day"),
        ("ends_on", "9999-12-31", "at most two years off"),
        ("reason", " ", "Type the reason"),
    ],
)
def test_what_will_not_do_is_kept_with_all_else(instructor, time, lena, field, typed, said):
    page = instructor.submit(time, lena | {field: typed})

    assert page.status == 422
    assert said in page.errors[field]


def test_who_is_no_member_gets_none(instructor, time, lena, given):
    assert instructor.submit(time, lena | {"person": given.public_id("foreman")}).status == 404


def test_work_that_was_taken_back_has_no_time(instructor, time, lena):
    back = time.removesuffix("/time") + "/withdraw"
    token = instructor.get(time).form(time)
    instructor.submit(back)

    assert instructor.get(time).status == 404
    assert instructor.post(time, token | lena).status == 404
