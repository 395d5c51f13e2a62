"""A problem found by its code."""

from __future__ import annotations

import pytest

from trainer.accounts.access import NotFoundError
from trainer.progress.by_code import problem_by_code


def test_a_code_finds_the_problem_as_it_was_issued(desk):
    public_id = desk.issue()
    with desk.database.read() as session:
        family, problem = problem_by_code(session, desk.library, desk.show(public_id).code)

    assert problem == desk.problem(public_id)
    assert family.id == problem.family_id


def test_a_code_that_no_problem_has_finds_nothing(desk):
    with desk.database.read() as session, pytest.raises(NotFoundError):
        problem_by_code(session, desk.library, "22222222")
