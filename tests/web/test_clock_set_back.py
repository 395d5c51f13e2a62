"""The clock of the machine is set back: everybody stays signed in, answers keep their order, and work stays due."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.progress.replayed import differences
from trainer.records.models import Answer, Problem

FAMILIES = ("offset-spacing", "strap-count")
PAGES = ("/today", "/practice", "/record", "/work", "/lessons", "/account", "/hours")


@pytest.mark.parametrize("back", [timedelta(hours=1), timedelta(days=40)])
def test_all_goes_on_when_the_clock_is_set_back_and_right_again(client_of, given, clock, back):
    learner, leader = client_of("learner"), client_of("instructor")
    work = given.work(*FAMILIES)
    first = f"/problems/{given.line(work)}"
    assert learner.submit(first, {"answer": "310 in"}).status == 303
    before = clock.now

    for moment in (before - back, before - back + timedelta(minutes=1), before + timedelta(minutes=1)):
        clock.now = moment
        for page in PAGES:
            assert learner.get(page).status == 200, page
        assert learner.submit(first, {"answer": f"{311 + moment.minute} in"}).status == 303
        token = learner.get(f"/work/{work}").value("csrf_token")
        opened = learner.post(f"/work/{work}/2", {"csrf_token": token, "new": "numbers"})
        assert opened.status == 303
        assert learner.submit(opened.location, {"answer": "999"}).status == 303
        assert leader.get(f"/given/{work}").status == 200

    with given.database.read() as session:
        rows = session.scalars(select(Answer).join(Problem).order_by(Answer.sequence)).all()
        assert [row.sequence for row in rows] == list(range(1, 8))
        assert all(row.days >= 0 for row in rows)
        assert differences(session, given.world.people["learner"]) == []
