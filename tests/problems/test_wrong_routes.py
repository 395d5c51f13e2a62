"""Wrong routes searched: turns on the calculation's own way, what they lead to, and what a question file may paste."""

from __future__ import annotations

import pytest

from trainer.calc.expression import compile_expression
from trainer.problems.draw import draw
from trainer.problems.family import load_family
from trainer.problems.wrong_routes import Place, Route, attempt, leads_to
from trainer.problems.wrong_routes_changes import changes, work_out
from trainer.problems.wrong_routes_found import NotNumericError, search
from trainer.problems.wrong_routes_listed import routes
from trainer.problems.wrong_routes_written import expression_of, is_worth


@pytest.mark.parametrize(
    ("formula", "did", "changed"),
    [
        ("distance + shrink", "shrink left out", "distance"),
        ("distance + shrink", "shrink taken off and not added", "distance - shrink"),
        ("stub_height - take_up", "take_up added and not taken off", "stub_height + take_up"),
        ("depth / sin(angle)", "multiplied by sin(angle) and not divided", "depth * sin(angle)"),
        ("depth / sin(angle)", "cosine for sine", "depth / cos(angle)"),
        ("depth * tan(angle / 2)", "the whole angle and not half of it", "depth * tan(angle)"),
        ("depth / sin(angle)", "half of angle and not all of it", "depth / sin(angle / 2)"),
        ("sqrt(rise * rise + roll * roll)", "root not drawn", "rise * rise + roll * roll"),
        ("1 + round_up(between / apart)", "1 left out", "round_up(between / apart)"),
        ("1 + round_up(between / apart)", "rounded down", "1 + round_down(between / apart)"),
        ("length / 12", "reckoned with 10 for 12", "length / 10"),
        ("sum(angles)", "each different one of angles counted once", "each_once(angles)"),
        ("max(by_length, alone)", "alone taken, whichever is right", "alone"),
        ("depth * multiplier", "multiplier rounded to a whole number first", "depth * nearest(multiplier)"),
    ],
)
def test_a_formula_is_changed_as_people_change_it(formula, did, changed):
    assert changed in {change.formula for change in changes(formula) if change.did == did}


def test_no_change_stands_twice_and_none_changes_nothing():
    formula = "distance + depth * tan(angle / 2)"
    found = [change.formula for change in changes(formula)]

    assert len(found) == len(set(found))
    assert formula not in found


def test_a_list_is_counted_as_people_count_it():
    numbers = {"angles": (90.0, 22.5, 22.5)}

    assert work_out("each_once(angles)", numbers) == 112.5
    assert work_out("all_as_largest(angles)", numbers) == 270
    assert work_out("all_as_smallest(angles)", numbers) == 67.5
    assert work_out("without_largest(angles)", numbers) == 45
    assert work_out("without_smallest(angles)", numbers) == 112.5
    assert work_out("to_tenths(sin(22.5)) + nearest(2.6)", {}) == 3.4


@pytest.fixture
def on(shelf):
    """A problem whose answer stands at the end of four steps, on two bases."""
    family = shelf["offset-near-mark"]
    return attempt(family, draw(family, 7))


def test_the_right_way_is_taken_down_with_its_numbers(on):
    assert {formula.target for formula, _ in on.steps} >= {"spacing", "shrink", "first_mark", "second_mark"}
    assert on.answers == {key: on.problem.outputs[key] for key in ("second_mark", "second_mark_handbook")}
    assert on.units["distance"] == "in"


def test_a_turned_step_is_gone_on_with_to_the_end(on):
    turned = Route(Place.STEP, "first_mark", "shrink turned", "distance - shrink", "distance + shrink")
    numbers = on.numbers

    led = leads_to(turned, on)

    assert led == {"second_mark": pytest.approx(numbers["distance"] - numbers["shrink"] - numbers["spacing"])}


def test_a_number_given_otherwise_runs_through_the_whole_calculation(on):
    thirty = on.family.calculation.solve({**on.values, "angle": 30})

    led = leads_to(Route(Place.GIVEN, "angle", "taken for 30", given=(("angle", 30.0),)), on)

    assert led == {
        "second_mark": thirty.second_mark,
        "second_mark_handbook": thirty.second_mark_handbook,
    }


def test_a_route_that_fails_changes_nothing_or_leaves_all_belief_leads_nowhere(on):
    for formula in (
        "distance / 0",
        "asin(distance)",
        "nobody + 1",
        "distance + shrink",
        "1000 * distance",
        "-distance",
    ):
        assert (
            leads_to(Route(Place.STEP, "first_mark", "odd", formula, "distance + shrink"), on).get("second_mark")
            is None
        )


def test_at_the_answer_a_number_of_another_basis_is_not_mixed_in(on):
    led = leads_to(Route(Place.ANSWER, "", "spacing", "answer - spacing_handbook", basis="handbook"), on)

    assert set(led) == {"second_mark_handbook"}


@pytest.mark.parametrize(
    "family_id", ["offset-near-mark", "saddle-centre-mark", "kick-mark", "percent-filled", "angle-pull"]
)
def test_an_expression_that_is_offered_comes_to_what_the_route_leads_to(shelf, family_id):
    family = shelf[family_id]
    names = [*draw(family, 3).outputs, *(name for one in family.parameters for name in one.names)]
    offered = 0
    on = attempt(family, draw(family, 3))
    for route in routes(on):
        for output, value in leads_to(route, on).items():
            if (text := expression_of(route, output, on)) and is_worth(text, value, on):
                known = {**on.problem.outputs, **{k: v for k, v in on.problem.numbers.items() if isinstance(v, float)}}
                assert compile_expression(text, names)(known) == pytest.approx(value)
                offered += 1
    assert offered > 5


def test_a_search_names_what_stands_alone_what_is_known_and_what_is_right(shelf):
    found = search(shelf["offset-near-mark"], 6)

    known = {row.mistake for row in found if row.mistake}
    in_the_file = {mistake.id for mistake in shelf["offset-near-mark"].mistakes}
    assert (
        {"no-shrink", "shrink-subtracted", "spacing-outward", "depth-for-spacing", "far-mark"} <= known <= in_the_file
    )
    for row in found:
        assert row.alone + row.right <= row.taken + sum(row.known.values())
    doubled = next(row for row in found if "doubled" in row.did)
    assert doubled.expressions == ["2 * second_mark", "2 * second_mark_handbook"]
    assert doubled.alone == doubled.taken == 6
    assert any(row.untold and "shrink: sine for tangent" in row.did for row in found)


def test_a_mistake_that_is_put_into_the_file_is_no_longer_alone(sound):
    twice = '[[mistakes]]\nid = "twice"\nvalue = ["2 * spacing", "2 * spacing_handbook"]\nsay = "Twice."\n\n[[hints]]'
    before = search(load_family(sound), 6)
    after = search(load_family(sound.replace("[[hints]]", twice)), 6)

    assert next(row for row in before if "doubled" in row.did).mistake == ""
    assert next(row for row in after if "doubled" in row.did).mistake == "twice"


def test_a_family_that_is_answered_by_choosing_has_none(choices):
    with pytest.raises(NotNumericError):
        search(load_family(choices), 3)
