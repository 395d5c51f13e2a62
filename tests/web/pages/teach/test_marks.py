"""Points beside each name, set by hand with a reason, and taken along as a file."""

from __future__ import annotations

import csv
from io import StringIO

import pytest

from trainer.accounts.people import change_display_name


@pytest.fixture
def work(given, do):
    work = given.work("offset-spacing", "strap-count")
    do(work, "sine-for-cosecant")
    return work


def test_the_rule_stands_above_the_points_and_a_leader_sets_them_with_a_reason(instructor, client_of, work):
    page = instructor.get(f"/given/{work}")
    assert "One point a question" in page.words
    assert "0 of 2" in page.words
    (address,) = {link for link in page.links() if link.startswith(f"/given/{work}/people/")}

    assert instructor.submit(address, {"points-1": "0.5", "points-2": "1"}).status == 422
    done = instructor.submit(address, {"points-1": "0.5", "points-2": "1", "reason": "Had no phone."})
    assert done.status == 303
    assert "1½ of 2 (some by hand)" in instructor.get(f"/given/{work}").words

    own = client_of("learner").get(f"/work/{work}")
    assert "Points: 1½ of 2" in own.words
    assert "Question 2: 1, set by hand" in own.words
    assert "Had no phone." in own.words


@pytest.fixture
def points_of_one(instructor, work):
    (address,) = {
        link for link in instructor.get(f"/given/{work}").links() if link.startswith(f"/given/{work}/people/")
    }
    return address


@pytest.mark.parametrize("points", ["2", "", "x" * 500])
def test_points_that_nobody_can_choose_are_refused_beside_their_question(instructor, points_of_one, points):
    page = instructor.submit(points_of_one, {"points-2": points, "points-1": "1", "reason": "Had no phone."})

    assert page.status == 422
    assert "Type 0, a half or 1." in page.errors["points-2"]
    assert "Had no phone." in page.words


@pytest.mark.parametrize("nth", ["9" * 5000, "999", "x", ""])
def test_points_of_a_question_that_there_is_not_change_nothing(instructor, points_of_one, nth):
    form = instructor.get(points_of_one).form(points_of_one) | {"reason": "Had no phone.", f"points-{nth}": "1"}

    assert instructor.post(points_of_one, form).status == 303
    assert "Nothing was changed." in instructor.get(points_of_one).words


def test_the_file_of_a_learner_who_is_called_like_a_formula_is_harmless(instructor, app, world, clock, work):
    with app.extensions["trainer.database"].write() as session:
        change_display_name(session, world.people["learner"], "=SUM(A1)", clock.now)
    sent = instructor.get(f"/given/{work}/out/csv").text
    rows = list(csv.reader(StringIO(sent.lstrip("\ufeff"))))

    assert [row[0] for row in rows] == ["Name", "'=SUM(A1)"]
    assert rows[1][-5:] == ["1", "0.0", "2", "1: multiplied with the sine", ""]
    assert instructor.get(f"/given/{work}/out/xlsx").sent.startswith(b"PK")
    assert instructor.get(f"/given/{work}/out/exe").status == 404
