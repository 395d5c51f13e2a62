"""A job's file read, its parts drawn from one set of numbers, and worked again from a learner's own."""

from __future__ import annotations

import pytest

from trainer.problems.draw import draw, settle
from trainer.problems.errors import ContentError
from trainer.problems.job_draw import Run, as_marked, draw_parts, part_with
from trainer.problems.job_file import load_file
from trainer.problems.misfit import Misfit
from trainer.problems.trial import trial
from trainer.problems.worked import drawing

JOB = """\
id = "up-a-step"
title = "Up a step"
skill = "bends.offset"
level = 3
sources = ["right-triangle geometry"]
scene = "An offset {{ depth | length }} deep, {{ angle | angle }}, {{ reach | length }} away."

[draw]
depth = { from = "4 in", to = "8 in", step = "1/2 in" }
angle = { choose = [22.5, 30, 45] }
reach = { from = "40 in", to = "60 in", step = "1/2 in" }

[[parts]]
id = "shrink"
title = "What it eats"
calculation = "offset"
figure = "offset"
basis = ["sharp-corner", "handbook"]
keep = ["spacing_arc > 4"]

[parts.ask]
kind = "length"
answer = "shrink"
tolerance = "1/16 in"
text = "How much does it eat?"

[[parts.mistakes]]
id = "twice"
value = "2 * shrink"
say = "That is twice the shrink."

[[parts]]
id = "mark"
title = "The mark"
skill = "measuring.lengths"
calculation = "length_sum"
carry = { eaten = "shrink" }

[parts.inputs]
lengths = "{{ reach | exact }}, {{ eaten | exact }}"

[parts.ask]
kind = "length"
answer = "total"
tolerance = "1/16 in"
text = "It eats {{ eaten | length }}. Where does the mark go?"

[[parts.mistakes]]
id = "no-shrink"
value = "reach"
say = "The shrink is missing."
"""


@pytest.fixture
def parts():
    return load_file(JOB, "questions/jobs/up-a-step.toml")


def refused(text):
    with pytest.raises(ContentError) as caught:
        load_file(text, "questions/jobs/up-a-step.toml")
    return caught.value.every


def test_each_part_is_a_family_of_its_own(parts):
    first, second = parts

    assert [part.id for part in parts] == ["up-a-step.shrink", "up-a-step.mark"]
    assert [part.skill for part in parts] == ["bends.offset", "measuring.lengths"]
    assert first.title == "Up a step, part 1: What it eats"
    assert (first.job.nth, first.job.first, first.job.last, second.job.last) == (1, True, False, True)
    assert first.rules_hash != second.rules_hash


def test_mended_words_of_one_part_leave_the_rules_and_the_other_part_as_they_were(parts):
    mended = load_file(JOB.replace("The shrink is missing.", "Add the shrink."))

    assert [part.rules_hash for part in mended] == [part.rules_hash for part in parts]
    assert mended[0].words_hash == parts[0].words_hash
    assert mended[1].words_hash != parts[1].words_hash


def test_the_parts_of_one_seed_have_one_set_of_numbers_and_carry_what_the_first_comes_to(parts):
    for seed in range(20):
        first, second = (draw(part, seed) for part in parts)
        eaten = as_marked(parts[0], first.keys[0].value)

        assert {name: second.numbers[name] for name in first.numbers} == first.numbers
        assert second.numbers["eaten"] == eaten
        assert second.keys[0].value == pytest.approx(first.numbers["reach"] + eaten)
        assert first.text.split("\n\n")[0] == second.text.split("\n\n")[0]


def test_a_part_is_worked_again_from_an_own_number(parts):
    problem = draw(parts[1], 3)
    run = Run(parts[1].job.job, 3, "2023", settle)

    own = part_with(run, 1, {**problem.numbers, "eaten": 7.5}, own=True)
    assert own.keys[0].value == problem.numbers["reach"] + 7.5
    assert dict(own.mistakes) == {"no-shrink": problem.numbers["reach"]}

    # A known mistake that comes to the right answer is left out; a draw would be thrown out for it.
    near = {**problem.numbers, "eaten": 0.0625}
    assert part_with(run, 1, near, own=True).mistakes == ()
    with pytest.raises(Misfit):
        part_with(run, 1, near)
    with pytest.raises(Misfit):
        part_with(run, 1, {**problem.numbers, "eaten": -2.0}, own=True)


def test_numbers_are_carried_as_one_writes_them_down(parts):
    assert as_marked(parts[0], 1.4861) == 1.5
    with pytest.raises(TypeError):
        as_marked(parts[0], "half")


def test_a_part_without_a_figure_shows_what_is_given_at_the_start(parts):
    problem = draw(parts[1], 1)

    assert "<svg" in drawing(parts[1], problem)
    assert drawing(parts[1], problem, solved=True) == drawing(parts[1], problem)


def test_a_sound_job_survives_its_trial(parts):
    assert [trial(part, 40) for part in parts] == [[], []]


def test_a_known_mistake_that_the_next_part_refuses_is_found():
    _, second = load_file(JOB.replace("carry =", 'keep = ["eaten < 1.7"]\ncarry ='))
    found = trial(second, 40)

    assert [error.key for error in found] == ["carry.eaten"]
    assert "What it eats, twice can't be carried on in" in found[0].given
    assert found[0].line > JOB[: JOB.index('id = "mark"')].count("\n")


def test_a_number_is_carried_only_from_an_earlier_part_that_has_one():
    (error,) = refused(JOB.replace('eaten = "shrink"', 'eaten = "mark"'))

    assert (error.key, error.given) == ("parts.1.carry.eaten", "mark")
    assert error.accepted == "an earlier part that is answered with a number: shrink"


def test_errors_of_a_part_name_their_line():
    (error,) = refused(JOB.replace("Where does the mark go?", "{{ nothing | length }}"))

    assert error.given == "nothing"
    assert JOB.splitlines()[error.line - 1].startswith('text = "It eats')


def test_a_part_stands_once_and_a_job_has_two_at_least():
    assert any(error.key == "parts.1.id" for error in refused(JOB.replace('id = "mark"', 'id = "shrink"')))
    alone = JOB[: JOB.index('[[parts]]\nid = "mark"')]
    assert [error.key for error in refused(alone)] == ["parts"]


def test_all_parts_of_a_seed_are_drawn_once(parts):
    run = Run(parts[0].job.job, 5, "2023", settle)

    assert draw_parts(run) is draw_parts(run)
