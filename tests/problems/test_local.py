"""Rules of a place laid over question files."""

from itertools import pairwise

import pytest
from msgspec.structs import replace

from trainer.lessons.html import lesson_html
from trainer.lessons.local import lay_over_lesson
from trainer.lessons.read import load_lessons
from trainer.library.shelf import Library
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError
from trainer.problems.given import calculation_values
from trainer.problems.job_file import load_file
from trainer.problems.language import language
from trainer.problems.local import is_thinned, laid_over, lay_over, load_local_rule, load_local_rules, touches
from trainer.problems.shelf import content_root, load_families
from trainer.problems.trial import trial
from trainer.problems.worked import worked
from trainer.text.words import say

FAMILIES = load_families(content_root() / "questions")
RULES = load_local_rules(content_root() / "questions")
LESSONS = load_lessons(content_root() / "lessons")
PAIRS = [(rule, family) for rule in RULES.values() for family in FAMILIES.values() if touches(rule, family)]

RULE = """
id = "shorter"
title = "Shorter pulls"
say = "At most 270° here."
source = "a shop's own rule"
"""


def test_two_rules_of_our_own_are_there_and_touch_something():
    assert len(RULES) >= 2
    assert {rule.id for rule, _ in PAIRS} == {*RULES}


@pytest.mark.parametrize(("rule", "family"), PAIRS, ids=lambda entry: entry.id)
def test_a_family_under_a_rule_can_be_asked(rule, family):
    laid = lay_over(family, [rule])

    found = [error for error in trial(laid, 100) if not is_thinned(error)]

    assert found == []
    assert language(laid) == []


def test_number_words_and_source_change_together():
    family = FAMILIES["degrees-left"]
    laid = lay_over(family, RULES.values())
    problem = draw(laid, 3)

    total = sum(angle * count for count, angle in ((problem.numbers["nineties"], 90), (1, 45), (2, 22.5)))
    total += 2 * problem.numbers["offset_angle"] + problem.numbers["kick_angle"]
    assert problem.keys[0].value == pytest.approx(270 - total)
    assert "**Here:** By the rule of this shop at most 270°" in problem.text
    assert RULES["shorter-pulls"].source in laid.shape.sources
    assert any("270" in say(step.note) for step in worked(laid, problem) if step.note)


@pytest.mark.parametrize(("rule", "family"), PAIRS, ids=lambda entry: entry.id)
def test_a_family_on_record_tells_under_which_rules_it_was_asked(rule, family):
    (laid,) = [one for one in load_file(lay_over(family, [rule]).body, "on record") if one.id == family.id]

    assert laid_over(laid, RULES.values()) == (rule,)
    assert laid_over(family, RULES.values()) == ()


def test_it_tells_both_of_two_rules_and_none_that_is_another_by_now():
    laid = lay_over(FAMILIES["degrees-left"], RULES.values())
    mended = replace(RULES["shorter-pulls"], values={"bends.total.limit": 300}, inputs={})
    both = lay_over(
        next(family for family in FAMILIES.values() if all(touches(one, family) for one in RULES.values())),
        RULES.values(),
    )

    assert laid_over(laid, [mended]) is None
    assert laid_over(laid, []) is None
    assert laid_over(both, RULES.values()) == tuple(RULES.values())


@pytest.mark.parametrize("name", ["the-stretch-that-fails", "the-fault-up-and-over", "tick-every-fault"])
def test_what_a_drawing_marks_is_what_the_local_key_says(name):
    laid = lay_over(FAMILIES[name], [RULES["closer-straps"]])
    for seed in range(20):
        problem = draw(laid, seed)
        far = sum(problem.numbers[each] > 24 for each in ("first", "last"))
        wide = sum(problem.numbers[each] > 96 for each in ("second", "third"))

        assert problem.outputs["violation_count"] == far + wide


def test_places_for_straps_are_sought_by_the_local_distances():
    laid = lay_over(FAMILIES["straps-on-a-straight-run"], [RULES["closer-straps"]])
    for seed in range(20):
        problem = draw(laid, seed)
        values = calculation_values(laid, problem.numbers, problem.edition)
        for layout in laid.calculation.solve(values).layouts:
            stops = (0.0, *layout.positions, values["run_length"])
            gaps = [there - here for here, there in pairwise(stops)]

            assert max(gaps[0], gaps[-1]) <= 24
            assert max(gaps[1:-1]) <= 96


def test_its_statistics_stay_apart_and_an_untouched_family_stays_itself():
    family = FAMILIES["degrees-left"]

    assert lay_over(family, RULES.values()).rules_hash != family.rules_hash
    assert lay_over(family, RULES.values()).id == family.id
    assert lay_over(FAMILIES["offset-spacing"], RULES.values()) is FAMILIES["offset-spacing"]


def test_what_a_family_draws_or_gives_itself_is_left_to_it():
    rule = load_local_rule(RULE + '[inputs.strap_count]\nends = "exception-at-one-end"\n')

    assert not touches(rule, FAMILIES["last-strap"]) or "ends" not in FAMILIES["last-strap"].shape.inputs


def test_a_lesson_says_it_and_works_with_it():
    lesson = LESSONS["saddles"]
    laid = lay_over_lesson(lesson, RULES.values())
    html = "".join(block.html for block in lesson_html(laid, FAMILIES) if block.kind == "prose")

    assert "at most 270°" in html
    assert "of the 270° allowed" in html.replace("\n", " ")
    assert RULES["shorter-pulls"].source in {source.source for source in laid.sources}
    assert lay_over_lesson(LESSONS["box-fill"], RULES.values()) is LESSONS["box-fill"]


def test_the_shelf_keeps_both():
    shelf = Library(content_root())
    laid = shelf.under(["shorter-pulls"])

    assert laid.families["degrees-left"].rules_hash != shelf.families["degrees-left"].rules_hash
    assert shelf.under(["shorter-pulls"]) is laid
    assert shelf.under([]) is shelf
    assert shelf.under(["gone"]) is shelf
    assert laid.under(["shorter-pulls"]) is laid
    assert {family.id for family in laid.families_of("bends.total")} == {
        family.id for family in shelf.families_of("bends.total")
    }


@pytest.mark.parametrize(
    ("rest", "given"),
    [
        ("", "nothing"),
        ('[values]\n"bends.total.nothing" = 3\n', "bends.total.nothing"),
        ('[inputs.no_such]\nlimit = "270"\n', "no_such"),
        ('[inputs.bend_total]\nangles = "90"\n', "angles"),
        ('[inputs.bend_total]\nlimit = "many"\n', "'many'"),
    ],
)
def test_a_rule_that_changes_nothing_or_what_there_is_not_is_refused(rest, given):
    with pytest.raises(ContentError) as refused:
        load_local_rule(RULE + rest, "shorter.toml")

    assert refused.value.given == given
    assert refused.value.file == "shorter.toml"


def test_a_rule_is_named_after_its_file(tmp_path):
    (tmp_path / "local").mkdir()
    (tmp_path / "local" / "other.toml").write_text(RULE + '[values]\n"bends.total.limit" = 270\n', "utf-8")

    with pytest.raises(ContentError, match="'other', the file's name"):
        load_local_rules(tmp_path)


def test_a_folder_without_local_rules_has_none(tmp_path):
    assert load_local_rules(tmp_path) == {}
