"""Pull boxes: what each dimension asks for and why, and what is not asked for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.calc.pull_boxes import pull_box
from trainer.calc.pull_boxes_entries import ENTRY_SIZES, Wall, read_entries
from trainer.calc.trace import trace


def box(text, **more):
    return pull_box(read_entries(text), **more)


def sizes(text, **more):
    found = box(text, **more)
    return found.width, found.height, found.depth


def test_a_straight_pull_asks_for_a_length_and_no_width():
    assert sizes("3 left to 2 right") == (24, None, None)
    assert sizes("3 top to 3 bottom") == (None, 24, None)


def test_other_straight_pulls_do_not_add():
    assert sizes("3 left to 3 right, 2 left to 2 right, 2 left to 2 right") == (24, None, None)


def test_an_angle_pull_asks_for_both_walls():
    assert sizes("2 left to 3 top") == (12, 18, None)


def test_the_others_of_a_row_add_to_its_largest():
    assert sizes("3 left to 3 top, 2 left to 2 top, 1-1/4 left to 1-1/4 bottom") == (21.25, 20, None)


def test_rows_are_taken_each_for_itself_and_the_most_counts():
    assert sizes("3 left row 1 to 3 top, 2 left row 2 to 2 top row 2, 2 left row 2 to 2 top row 2") == (18, 18, None)


def test_a_row_with_straight_and_angle_entries_counts_all_of_them():
    assert sizes("2 left to 2 right, 3 left to 3 top") == (20, 18, None)


def test_the_largest_need_of_a_dimension_wins():
    found = box("3 left to 3 right, 2 left to 2 top, 2 left to 2 bottom")

    assert (found.width, found.height) == (24, 12)
    assert [dimension.why.id for dimension in found.why] == [
        "pull_boxes.straight",
        "pull_boxes.row-of-one",
        "pull_boxes.no-pull",
    ]


def test_a_u_pull_asks_for_the_opposite_wall_only():
    assert sizes("3 left to 3 left") == (21, None, None)


def test_a_splice_asks_as_an_angle_pull_does():
    assert sizes("3 left splice, 2 left splice") == (20, None, None)


def test_conductors_that_part_are_named_by_letters():
    assert sizes("3 left A B, 2 top A, 2 right B") == (24, 12, None)


def test_entries_of_the_same_conductors_stand_six_times_the_larger_apart():
    found = box("3 left to 2 top, 2 left to 2 right")

    assert [each.required for each in found.spacings] == [18]
    assert found.spacing == 18


def test_a_straight_pull_asks_for_no_spacing():
    assert box("2 left to 2 right").spacing is None


def test_an_entry_in_the_back_goes_by_its_conductor_where_one_is_known():
    assert sizes("2 back to 2 left") == (12, None, 12)
    assert sizes("2 back to 2 left", conductor_size="4/0") == (12, None, 4)
    assert sizes("2 back to 2 left", conductor_size="4") == (12, None, 2)


def test_a_conductor_beyond_the_table_of_the_back_is_refused():
    with pytest.raises(InputError) as refused:
        box("4 back to 4 left", conductor_size="750")

    assert refused.value.field == "conductor_size"


@pytest.mark.parametrize(("size", "applies"), [("6", False), ("14", False), ("4", True), ("500", True)])
def test_it_does_not_apply_below_4_awg(size, applies):
    found = box("2 left to 2 right", conductor_size=size)

    assert found.applies == applies
    assert found.width == (16 if applies else None)
    assert found.why[0].why.id == ("pull_boxes.straight" if applies else "pull_boxes.too-small")


def test_trade_sizes_are_numbers_here():
    assert sizes("3/4 left to 3/4 right") == (6, None, None)
    assert sizes("1-1/4 left to 1 1/2 right") == (12, None, None)


def test_a_large_box_has_its_conductors_racked():
    _, steps = trace(pull_box, entries=read_entries(", ".join(["6 left to 6 top"] * 8)))

    assert "pull_boxes.racked" in {step.note.id for step in steps if step.note}


@pytest.mark.parametrize(
    "text",
    [
        "3 left to 3 right",
        "left 3 to right 3",
        '3" left wall to 3" right wall',
        "LEFT 3 row 1 to 3 in right",
        "3 left A; 3 right A",
        "3 left row1 a\n3 right a",
    ],
)
def test_entries_are_read_in_all_their_ways(text):
    assert sizes(text) == (24, None, None)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "pull_boxes.not-understood"),
        ("3 left", "pull_boxes.no-partner"),
        ("3 left A", "pull_boxes.not-a-pair"),
        ("3 left A, 3 right A, 3 top A", "pull_boxes.not-a-pair"),
        ("3 left to 3 right to 3 top", "pull_boxes.more-than-two"),
        ("3 left to 3", "pull_boxes.not-understood"),
        ("left to right", "pull_boxes.not-understood"),
        ("3 left 3 to 3 right", "pull_boxes.not-understood"),
        ("3 left top to 3 right", "pull_boxes.not-understood"),
        ("3 left splice to 3 right", "pull_boxes.not-understood"),
        ("3 left somewhere", "pull_boxes.not-understood"),
        ("-3 left to 3 right", "pull_boxes.not-understood"),
        ("7/8 left to 3 right", "pull_boxes.no-such-size"),
        ("9 left to 3 right", "pull_boxes.no-such-size"),
        ("3 left to 3 right," * 40, "input.list-too-long"),
        (",".join(["1 top splice"] * 30 + ["1 top a"] + ["1 left a"]), "input.list-too-long"),
        (",".join(["1 a top"] * 33), "pull_boxes.not-a-pair"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_reason(text, reason):
    with pytest.raises(InputError) as refused:
        read_entries(text)

    assert refused.value.reason.id == reason
    assert read_entries(refused.value.example)


PULLS = st.lists(
    st.tuples(
        st.sampled_from(ENTRY_SIZES), st.sampled_from(list(Wall)), st.integers(1, 2), st.sampled_from(list(Wall))
    ),
    min_size=1,
    max_size=5,
)


def written(pulls):
    return ", ".join(f"{size} {one} row {row} to {size} {other}" for size, one, row, other in pulls)


@given(PULLS, PULLS)
def test_adding_a_pull_never_makes_a_dimension_smaller(pulls, more):
    before, after = sizes(written(pulls)), sizes(written([*pulls, *more]))

    for smaller, larger in zip(before, after, strict=True):
        assert (larger or 0) >= (smaller or 0)


@given(PULLS)
def test_a_mirrored_box_is_as_large(pulls):
    mirror = {Wall.LEFT: Wall.RIGHT, Wall.RIGHT: Wall.LEFT}
    mirrored = [(size, mirror.get(one, one), row, mirror.get(other, other)) for size, one, row, other in pulls]

    assert sizes(written(mirrored)) == sizes(written(pulls))


@given(PULLS)
def test_entries_read_back_as_they_are_written(pulls):
    entries = read_entries(written(pulls))
    letters = {str(number): chr(ord("A") + number - 1) for number in range(1, 6)}
    again = read_entries(", ".join(f"{str(entry)[:-1]}{letters[entry.pulls[0]]}" for entry in entries))

    assert pull_box(again).why == pull_box(entries).why
