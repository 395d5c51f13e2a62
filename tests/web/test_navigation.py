"""The main pages along the lower edge."""

from __future__ import annotations

import pytest

from trainer.web import navigation
from trainer.web.language import Later
from trainer.web.navigation import EVERYBODY, LEADERS, Place


@pytest.fixture
def places(monkeypatch):
    """Two main pages that are there already."""
    shown = (
        Place("account.overview", Later("Account"), "account", ("account.",), EVERYBODY),
        Place("sharing.held", Later("Sharing"), "group", ("sharing.",), LEADERS),
    )
    monkeypatch.setattr(navigation, "PLACES", shown)


def labels(page):
    return {
        " ".join("".join(link.itertext()).split()): link.get("aria-current") for link in page.tree.findall(".//nav//a")
    }


@pytest.mark.usefixtures("places")
def test_a_reader_sees_the_pages_for_his_kind_and_where_he_is(client_of):
    assert labels(client_of("learner").get("/account")) == {"Account": "page"}
    assert labels(client_of("instructor").get("/account")) == {"Account": "page", "Sharing": None}


@pytest.mark.usefixtures("places")
def test_a_stranger_sees_none(client):
    assert labels(client.get("/sign-in")) == {}


@pytest.mark.usefixtures("places")
def test_the_first_page_leads_to_the_first_of_them(client_of):
    assert client_of("learner").get("/").location == "/account"


@pytest.mark.usefixtures("places")
def test_who_leads_and_learns_nowhere_begins_with_the_groups(client_of):
    assert client_of("instructor").get("/").location == "/account/held"
    assert client_of("foreman").get("/").location == "/account/held"
