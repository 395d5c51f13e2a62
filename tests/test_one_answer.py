"""
One answer's way through the house. Read this first.

An apprentice gets a problem, makes the slip that everybody makes on it, is told which one it was, mends it, sees the
steps in his own numbers, and does it right the next day. What is on record then follows from the answers alone.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import uuid4

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.calc.length import write_length
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.practice import answer, issue, show
from trainer.progress.record import skills_of
from trainer.progress.replay import replay
from trainer.progress.sitting import sit_down
from trainer.progress.states import as_state, states_of
from trainer.text.words import say

MONDAY = datetime(2026, 9, 7, 12, 0, tzinfo=UTC)
TUESDAY = MONDAY + timedelta(days=1)
MARK = "offset-far-mark"


def test_one_answers_way_through_the_house(database):
    library = Library(content_root())
    with database.write() as session:
        names = {"sign_in_name": "pat", "display_name": "Pat", "password": "a long walk home"}
        pat = create_person(session, **names, now=MONDAY, passwords=CHEAP_PASSWORDS).id

    # A problem is drawn from a question file and stays open with the same numbers until it is done.
    with database.write() as session:
        here = issue(session, library, pat, family_id=MARK, now=MONDAY, edition="2023")
    with database.read() as session:
        drawn = sit_down(session, library, pat, here).problem
        page = show(session, library, pat, here)
    distance, first_mark = drawn.numbers["distance"], drawn.keys[0].value

    assert page.open
    assert write_length(distance) in page.text_html
    assert not page.steps

    # Pat marks straight at the step. The form arrives twice, as forms do, and counts once.
    form = {"answer_key": page.answer_key, "now": MONDAY}
    for _ in range(2):
        with database.write() as session:
            slip = answer(session, library, pat, here, write_length(distance), **form)

    assert (slip.outcome, slip.verdict, slip.mistakes) == ("repeated", "known-mistake", ("no-shrink",))

    # The page says what was done. Mended, the problem closes and shows the steps, and the drawing with both marks in it.
    with database.write() as session:
        answer(session, library, pat, here, write_length(first_mark), answer_key=str(uuid4()), now=MONDAY)
    with database.read() as session:
        page = show(session, library, pat, here)

    assert [attempt.verdict for attempt in page.attempts] == ["known-mistake", "right"]
    assert "You marked straight at" in page.attempts[0].mistakes[0].html
    assert {"shrink", "first_mark"} <= {step.name for step in page.steps}
    assert "fig-wrong" in page.figure

    # Tuesday, with new numbers, at the first try.
    with database.write() as session:
        there = issue(session, library, pat, family_id=MARK, now=TUESDAY, edition="2023")
        first_mark = sit_down(session, library, pat, there).problem.keys[0].value
        answer(session, library, pat, there, write_length(first_mark), answer_key=str(uuid4()), now=TUESDAY)

    # The skill has moved, one good answer says little yet, and the answers alone give the same record to the last bit.
    with database.read() as session:
        offsets = next(line for line in skills_of(session, library, pat, TUESDAY) if line.skill == "bends.offset")
        kept = {skill: as_state(row) for skill, row in states_of(session, pat).items()}

        assert say(offsets.words) == "Offsets: too early to say, with 3 answers so far."
        assert kept["bends.offset"].holding_days > 2
        assert replay(session, pat).states == kept
