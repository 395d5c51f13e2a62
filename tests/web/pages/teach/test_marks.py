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


def test_the_file_of_a_learner_who_is_called_like_a_formula_is_harmless(instructor, app, world, clock, work):
    with app.extensions["trainer.database"].write() as session:
        change_display_name(session, world.people["learner"], "=SUM(A1)", clock.now)
    sent = instructor.get(f"/given/{work}/out/csv").text
    rows = list(csv.reader(StringIO(sent.lstrip("\ufeff"))))

    assert [row[0] for row in rows] == ["Name", "'=SUM(A1)"]
    assert rows[1][-3:] == ["0.0", "2", ""]
    assert instructor.get(f"/given/{work}/out/xlsx").sent.startswith(b"PK")
    assert instructor.get(f"/given/{work}/out/exe").status == 404
