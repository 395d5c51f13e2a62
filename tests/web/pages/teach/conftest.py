"""What the tests of the leaders' pages share: leaders' browsers, and answers on record."""

from __future__ import annotations

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.groups.joining import join
from trainer.groups.membership import set_sharing


@pytest.fixture
def instructor(client_of):
    return client_of("instructor")


@pytest.fixture
def foreman(client_of):
    return client_of("foreman")


@pytest.fixture
def owner(client_of):
    return client_of("owner")


@pytest.fixture
def here(world):
    """The address of the class; `here("people", ...)` of something below it."""

    def address(*parts, group="class"):
        return "/".join(["/groups", world.groups[group], *parts])

    return address


@pytest.fixture
def do(given):
    """Answers the problem of a line: rightly, with a named mistake, or with a text."""

    def answer(work, typed="right", position=1, who="learner"):
        problem = given.line(work, position, who)
        drawn = given.drawn(problem, who)
        if typed == "right":
            text = given.right(problem, who)
        elif typed in {one.id for one in drawn.mistakes}:
            text = given.mistaken(problem, typed, who)
        else:
            text = typed
        given.answer(problem, text, who)
        return problem

    return answer


@pytest.fixture
def share(app, world, clock):
    """Lets the learner open or close a part of the record to the class."""

    def change(what, *, shared=True):
        with app.extensions["trainer.database"].write() as session:
            learner = actor_of_person(session, world.people["learner"])
            set_sharing(session, learner, world.groups["class"], what, clock.now, shared=shared)

    return change


@pytest.fixture
def more_people(app, world, clock, monkeypatch):
    """Lets a few others join the class; gives back who they are."""

    def join_in(*names):
        with app.extensions["trainer.database"].write() as session:
            for name in names:
                made = create_person(
                    session,
                    sign_in_name=name,
                    display_name=name.title(),
                    password="three words apart",
                    now=clock.now,
                    passwords=CHEAP_PASSWORDS,
                )
                join(session, actor_of_person(session, made.id), world.codes["class"], clock.now)
                monkeypatch.setitem(world.people, name, made.id)
        return names

    return join_in
