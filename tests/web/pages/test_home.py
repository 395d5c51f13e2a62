"""The first page."""

from __future__ import annotations


def test_a_stranger_reads_what_this_is_and_the_two_ways_in(client):
    page = client.get("/")

    assert "tubing" in page.words
    assert {"/sign-in", "/join"} <= set(page.links())


def test_one_who_is_signed_in_is_sent_to_the_first_of_the_own_pages(client_of):
    page = client_of("learner").get("/")

    assert page.status == 303
    assert client_of("learner").get(page.location).status == 200
