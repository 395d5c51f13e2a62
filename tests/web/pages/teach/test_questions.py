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
    assert "/groups" in page.links()
    (address,) = [link for link in page.links() if given.library.families["offset-spacing"].rules_hash in link]
    one = instructor.get(address)
    assert "The key look at it Check the key" in one.words
    assert "1 answer so far; it takes 20." in one.words
    assert [link for link in one.links() if link.startswith("/keys/of/")]


def test_work_with_the_same_numbers_for_all_is_counted_and_with_enough_people_judged(
    instructor, given, do, more_people, monkeypatch
):
    more_people("amy", "bob")
    work = given.work("offset-spacing", "strap-count", same_numbers=True, title="The same for all")
    for who, typed in (("learner", "right"), ("amy", "99 in"), ("bob", "right")):
        do(work, typed, 1, who)
        do(work, "right" if typed == "right" else "99", 2, who)

    assert "2 questions with answers" in instructor.get("/questions").words
    assert "3 people, 2 questions; it takes 50 people and 10 questions" in instructor.get("/questions").words

    monkeypatch.setattr("trainer.groups.question_reports.SHEET_PEOPLE", 3)
    monkeypatch.setattr("trainer.groups.question_reports.SHEET_PROBLEMS", 2)
    assert "KR-20 1.00: enough to learn from" in instructor.get("/questions").words

    other = given.work("offset-spacing", "strap-count", same_numbers=True, title="Another one")
    for who, first, second in (("learner", "right", "99"), ("amy", "99 in", "right"), ("bob", "right", "right")):
        do(other, first, 1, who)
        do(other, second, 2, who)
    assert "It tells people apart badly (KR-20 -2.00, below 0.70)" in instructor.get("/questions").words
