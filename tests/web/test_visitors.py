"""Who may call which page: no view without visitors, and where others are sent."""

from __future__ import annotations

import pytest
from flask import Blueprint

from trainer.web.app import TrainerApp
from trainer.web.visitors import UnnamedVisitorsError, Visitor, safe_next, visitors


def view():
    return "seen"


def test_a_view_that_names_no_visitors_cannot_be_registered():
    app = TrainerApp("sample", static_folder=None)

    with pytest.raises(UnnamedVisitorsError, match=r"/x: view names no visitors"):
        app.add_url_rule("/x", view_func=view)


def test_nor_can_one_of_a_blueprint():
    pages = Blueprint("pages", "sample")
    pages.add_url_rule("/x", view_func=view)

    with pytest.raises(UnnamedVisitorsError):
        TrainerApp("sample", static_folder=None).register_blueprint(pages)


def test_nor_one_that_names_nobody():
    with pytest.raises(UnnamedVisitorsError):
        TrainerApp("sample", static_folder=None).add_url_rule("/x", view_func=visitors()(lambda: "seen"))


def test_a_view_keeps_its_visitors():
    marked = visitors(Visitor.LEARNER, Visitor.OWNER)(lambda: "seen")

    assert marked.visitors == {Visitor.LEARNER, Visitor.OWNER}


@pytest.fixture
def only_for(app, monkeypatch):
    """Makes the account page one for certain visitors."""

    def make(*kinds):
        monkeypatch.setitem(app.view_functions, "account.overview", visitors(*kinds)(view))

    return make


@pytest.mark.parametrize(
    ("kind", "who"),
    [
        (Visitor.LEARNER, {"learner", "other-learner"}),
        (Visitor.INSTRUCTOR, {"instructor"}),
        (Visitor.FOREMAN, {"foreman"}),
        (Visitor.OWNER, {"owner"}),
        (Visitor.ADMINISTRATOR, {"administrator"}),
    ],
)
def test_a_page_for_one_kind_is_for_nobody_else(client_of, only_for, kind, who, world):
    only_for(kind)

    # Not a page of the site: looked at without the checks of pages.
    answers = {name: client_of(name).client.get("/account").status_code for name in world.people}

    assert {name for name, status in answers.items() if status == 200} == who
    assert set(answers.values()) == {200, 403}


def test_nobody_is_sent_to_sign_in_and_back(client):
    assert client.get("/account/held?a=1").location == "/sign-in?next=/account/held?a%3D1"


def test_a_form_that_comes_too_late_is_not_gone_back_to(client):
    token = client.get("/sign-in").value("csrf_token")

    assert client.post("/sign-out", {"csrf_token": token}).location == "/sign-in"


@pytest.mark.parametrize("path", ["/", "/practice", "/practice?skill=bends.offset#answer", "/join/7K3MB9QY"])
def test_a_path_of_this_site_is_safe(path):
    assert safe_next(path) == path


@pytest.mark.parametrize(
    "path",
    [
        None,
        "",
        "practice",
        "//elsewhere.example",
        "/\\elsewhere.example",
        "\\\\elsewhere.example",
        "https://elsewhere.example",
        "javascript:alert(1)",
        "/\t/elsewhere.example",
        "/x\r\nSet-Cookie: a=b",
        " /x",
        "/x y",
        "/" + "x" * 500,
    ],
)
def test_anything_else_is_not(path):
    assert safe_next(path) is None
