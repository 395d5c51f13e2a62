"""What was chosen, in the words that the learner chose by."""

from __future__ import annotations

import pytest

from trainer.problems.model import CHOOSING, AnswerKind
from trainer.web.recorded import LONGEST, as_read

READ = [
    (
        "connector-for-the-job",
        "right-angle, set-screw-steel",
        "right-angle connector; set-screw connector, steel",
    ),
    ("box-that-holds-it", "shallow", "4 x 1-1/4 square, 18 cu in"),
    ("the-fault-up-and-over", "second-to-third", "… along the tube from the second strap to the third"),
    ("what-is-wrong-with-the-fill", "spare", "another run: two spares not counted, they end under tape"),
    ("back-to-back-second-mark", "back-on-less", "back on less"),
    ("drain-opening", "large", "large"),
    ("offset-spacing", "12 1/2 in", "12 1/2 in"),
    ("rule-or-habit", "gone-by-now", "gone by now"),
    ("no-such-question", "a-b", "a-b"),
    ("rule-or-habit", "", ""),
]


@pytest.mark.parametrize(("family", "typed", "said"), READ)
def test_a_choice_is_read_in_the_words_of_its_options(app, family, typed, said):
    with app.test_request_context():
        assert as_read(family, typed) == said


def test_steps_stand_with_their_numbers(app):
    family = next(one for one in app.extensions["trainer.library"].families.values() if one.kind is AnswerKind.ORDER)
    with app.test_request_context():
        said = as_read(family.id, ", ".join(one.id for one in family.steps))

    assert said.startswith("1 ")
    assert f", {len(family.steps)} " in said


def test_no_option_of_any_question_shows_its_inner_name_or_fills_a_page(app):
    with app.test_request_context():
        for family in app.extensions["trainer.library"].families.values():
            for one in family.statements if family.kind in CHOOSING else ():
                said = as_read(family.id, one.id)
                assert 0 < len(said) <= LONGEST, (family.id, one.id)
                assert "{" not in said
