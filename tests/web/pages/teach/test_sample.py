"""A question seen from behind."""

from __future__ import annotations

import re

import pytest


def test_a_sample_has_its_key_its_steps_and_its_known_mistakes(instructor, here):
    page = instructor.get(here("questions", "offset-spacing"))

    assert page.heading == "Distance between the marks of an offset"
    for part in ("What is right The answer:", "How it is worked", "Mistakes that are known here", "gave the depth"):
        assert part in page.words
    assert "Hints, in this order" in page.words
    assert "CAUTION" in page.words


def test_every_question_can_be_looked_at(app, instructor, here):
    for family in app.extensions["trainer.library"].families.values():
        page = instructor.get(here("questions", family.id))
        assert (page.status, page.heading) == (200, family.title)


def test_options_say_whether_they_apply_and_why(instructor, here):
    page = instructor.get(here("questions", "fittings-that-belong"))

    assert "Applies." in page.words
    assert "Does not apply." in page.words


def test_other_numbers_keep_what_was_chosen(instructor, here):
    first = instructor.get(here("questions", "offset-spacing") + "?count-strap-count=3")
    other = next(link for link in first.links() if "nth=2" in link)

    assert "count-strap-count=3" in other
    second = instructor.get(other)
    assert first.words != second.words
    assert second.words == instructor.get(other).words


@pytest.mark.parametrize("nth", ["0", "-3", "many", "999999999999999999999"])
def test_a_number_of_nonsense_shows_some_sample(instructor, here, nth):
    assert instructor.get(here("questions", "offset-spacing"), query_string={"nth": nth}).status == 200


def test_the_last_sample_leads_to_the_first(instructor, here):
    page = instructor.get(here("questions", "offset-spacing") + "?nth=99")

    assert any(re.search(r"nth=1\b", link) for link in page.links())


def test_from_the_results_it_leads_back_to_them(instructor, here, given, do):
    work = given.work()
    do(work)
    line = instructor.get(f"/given/{work}/lines/1")
    sample = instructor.get(next(link for link in line.links() if link.startswith(here("questions"))))

    assert f"/given/{work}/lines/1" in sample.links()
    other = next(link for link in sample.links() if "nth=2" in link)
    assert f"/given/{work}/lines/1" in instructor.get(other).links()


def test_a_question_can_be_tried_oneself(instructor, here):
    page = instructor.submit(here("questions", "offset-spacing"), action="/practice")

    assert page.location.startswith("/problems/")


def test_a_question_that_there_is_not_is_not_found(instructor, here):
    assert instructor.get(here("questions", "no-such")).status == 404
