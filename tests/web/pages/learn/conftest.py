"""A learner at the pages: what is asked for, answered and read, as a browser without script does it."""

from __future__ import annotations

import pytest


class Learner:
    """One of `world`'s people in a browser."""

    def __init__(self, browser, given):
        self.browser, self.given = browser, given

    def get(self, path, **options):
        return self.browser.get(path, **options)

    def see(self, problem):
        return self.browser.get(f"/problems/{problem}")

    def send(self, problem, *typed, **more):
        """Fill in the form of a problem and send it."""
        page = self.see(problem)
        form = page.form(f"/problems/{problem}")
        form.pop("answer", None)
        return self.browser.post(f"/problems/{problem}", {**form, "answer": [*typed], **more})

    def answer(self, problem, *typed):
        """Send an answer and read what came of it."""
        sent = self.send(problem, *typed)
        assert (sent.status, sent.location) == (303, f"/problems/{problem}")
        return self.see(problem)

    def press(self, page, action, data=None):
        """Send a form of a page that was read."""
        return self.browser.post(action, page.form(action) | (data or {}))

    def hint(self, problem):
        return self.press(self.see(problem), f"/problems/{problem}", {"nth": ""})

    def give_up(self, problem):
        return self.press(self.see(problem), f"/problems/{problem}/steps")


@pytest.fixture
def learner(client_of, given):
    return Learner(client_of("learner"), given)


@pytest.fixture
def other(client_of, given):
    """Somebody who learns in another class."""
    return Learner(client_of("other-learner"), given)
