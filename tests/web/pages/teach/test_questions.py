"""The question report on its pages."""

from __future__ import annotations


def test_before_any_answer_it_says_what_will_stand_here(instructor):
    assert "No answers yet" in instructor.get("/questions").words


def test_a_question_whose_key_is_in_doubt_leads_and_can_be_decided_about(instructor, given, do):
    work = given.work("offset-spacing", "strap-count")
    do(work, "sine-for-cosecant")
    do(work, "right", position=2)
    given.doubt("offset-spacing")
    page = instructor.get("/questions")

    assert "Check the key" in page.words
    assert "One other question" in page.words
    (address,) = [link for link in page.links() if given.library.families["offset-spacing"].rules_hash in link]
    one = instructor.get(address)
    assert "The key look at it Check the key" in one.words
    assert "1 so far; it takes 20 to say anything." in one.words
    assert [link for link in one.links() if link.startswith("/keys/of/")]
