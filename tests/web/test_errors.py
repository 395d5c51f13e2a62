"""The pages for what went wrong."""

from __future__ import annotations

import pytest
from flask import abort

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import Message
from trainer.web.errors import EXPLANATIONS


@pytest.fixture
def failing(app, client, monkeypatch):
    """Makes the first page fail in some way, and fetches it."""

    def fetch(failure):
        def view():
            raise failure

        view.visitors = app.view_functions["home.first"].visitors
        monkeypatch.setitem(app.view_functions, "home.first", view)
        monkeypatch.setitem(app.config, "PROPAGATE_EXCEPTIONS", False)
        return client.get("/")

    return fetch


def aborted(status):
    try:
        abort(status)
    except Exception as error:  # noqa: BLE001 - whichever it is.
        return error


@pytest.mark.parametrize("status", sorted(EXPLANATIONS))
def test_each_error_says_what_happened_and_what_to_do(failing, status):
    page = failing(aborted(status))

    assert page.status == status
    assert page.heading == str(EXPLANATIONS[status].title)
    assert str(EXPLANATIONS[status].next) in page.words


@pytest.mark.parametrize(("status", "like"), [(410, 400), (418, 400), (503, 500)])
def test_an_error_without_words_of_its_own_gets_those_of_its_kind(failing, status, like):
    page = failing(aborted(status))

    assert page.status == status
    assert page.heading == str(EXPLANATIONS[like].title)


def test_an_error_that_nobody_caught_shows_nothing_of_itself(failing):
    page = failing(ValueError("typed by somebody"))

    assert page.status == 500
    assert "typed by somebody" not in page.text
    assert page.headers["X-Request-Id"] in page.words


def test_what_one_may_not_know_of_is_not_found(failing):
    assert failing(NotFoundError()).status == 404


def test_what_one_knows_of_and_may_not_see_says_why(failing):
    page = failing(NotAllowedError(Message("access.leaders-only", {"group": "Tuesday evening"})))

    assert page.status == 403
    assert "Only those who lead Tuesday evening may see this." in page.words


def test_an_unknown_address_is_a_page_of_the_site(client_of):
    page = client_of("learner").get("/nowhere")

    assert page.status == 404
    assert "Learner Person" in page.text


def test_the_wrong_method_says_which_are_right(client):
    page = client.get("/sign-out")

    assert page.status == 405
    assert "POST" in page.headers["Allow"]


def test_headers_stand_on_errors_too(failing):
    assert "default-src 'self'" in failing(ValueError()).headers["Content-Security-Policy"]
