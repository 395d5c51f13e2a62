"""The course of a skill on its page."""


def practise(given, times):
    for _ in range(times):
        problem = given.problem(family_id="offset-far-mark")
        given.answer(problem, given.right(problem))


def test_it_is_drawn_from_the_sixth_answer_on_with_its_numbers_in_words(learner, given):
    practise(given, 5)
    assert "from answer to answer" not in learner.get("/record/bends.offset").text

    practise(given, 1)
    page = learner.get("/record/bends.offset")
    assert "Offsets: right of 10, from answer to answer" in page.text
    assert "After answer 5, Nov 25: about" in page.text
    assert "After answer 6, Nov 25: about" in page.text
    assert 'class="fig-tube"' in page.text
