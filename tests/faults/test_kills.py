"""The server is killed twenty times under load: `kills.py` in its small form."""

from __future__ import annotations

import pytest
from kills import killed_again_and_again

KILLS = 20


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def url(request):
    """A migrated, empty database, once of each kind."""
    return request.getfixturevalue("sqlite_url" if request.param == "sqlite" else "postgres_url")


def test_nothing_acknowledged_is_lost_or_doubled_and_the_record_equals_a_replay(url, tmp_path):
    run = killed_again_and_again(url, tmp_path, kills=KILLS, learners=4, seed=7)

    assert run.kills == KILLS
    assert 0 < run.whole < KILLS
    assert run.answers >= KILLS
    assert run.broken >= KILLS
