from __future__ import annotations

import pytest
from msgspec.structs import replace

from trainer.calc.layout_room import check_room
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOE, HOOK_NEEDS
from trainer.text.words import error_text

STICK = 120.0
#: From a take-up mark to the far end of a 30 degree arc behind it [in].
BEHIND = DEFAULT_SHOE.mark_to_arc + 4.5 * 0.5235987755982988


def mark(position, order=1, *, hook=End.MEASURED, angle=30.0, reference=Reference.TAKE_UP):
    return Mark(position, End.MEASURED, reference, hook, angle, 180.0, False, order)


def refusal_of(marks, **more):
    with pytest.raises(InputError) as refusal:
        check_room(marks, DEFAULT_SHOE, STICK, **more)
    assert "{" not in error_text(refusal.value)
    return refusal.value


def test_a_mark_as_far_from_the_end_as_the_hook_needs_can_be_bent():
    check_room([mark(HOOK_NEEDS)], DEFAULT_SHOE, STICK)
    check_room([mark(STICK - HOOK_NEEDS, hook=End.FAR)], DEFAULT_SHOE, STICK)


def test_a_mark_nearer_to_the_end_can_not():
    assert refusal_of([mark(HOOK_NEEDS - 0.1)]).reason.id == "layout.room.end"
    assert refusal_of([mark(STICK - HOOK_NEEDS + 0.1, hook=End.FAR)]).reason.id == "layout.room.end"


def test_a_mark_beyond_the_end_leaves_no_tube_at_all():
    assert refusal_of([mark(-0.1)]).reason.params["left"].value == 0


def test_the_hook_needs_straight_tube_before_a_bend_that_is_there_already():
    spacing = BEHIND + HOOK_NEEDS
    check_room([mark(40, 1), mark(40 + spacing, 2)], DEFAULT_SHOE, STICK)

    refused = refusal_of([mark(40, 1), mark(40 + spacing - 0.1, 2)])
    assert refused.reason.id == "layout.room.bend"
    assert refused.reason.params["other"] == 1
    assert refused.reason.params["left"].value == pytest.approx(HOOK_NEEDS - 0.1)


def test_the_same_toward_the_far_end():
    spacing = BEHIND + HOOK_NEEDS
    check_room([mark(60, 1, hook=End.FAR), mark(60 - spacing, 2, hook=End.FAR)], DEFAULT_SHOE, STICK)

    refused = refusal_of([mark(60, 1, hook=End.FAR), mark(60 - spacing + 0.1, 2, hook=End.FAR)])
    assert refused.reason.id == "layout.room.bend"


def test_bent_in_the_other_order_the_hook_still_finds_straight_tube():
    check_room([mark(40, 2), mark(40 + BEHIND + 0.1, 1)], DEFAULT_SHOE, STICK)
    check_room([mark(60, 2, hook=End.FAR), mark(60 - BEHIND - 0.1, 1, hook=End.FAR)], DEFAULT_SHOE, STICK)


def test_a_hook_that_needs_more_says_so():
    assert refusal_of([mark(3)], hook_needs=4).reason.params["needed"].value == 4


def test_with_another_reference_the_hook_sits_where_the_take_up_mark_is():
    """With the middle of a 45 on the mark, the hook is half an arc and a bit nearer to the end."""
    half = 4.5 * 0.7853981633974483 / 2 + DEFAULT_SHOE.mark_to_arc
    centre = mark(half + HOOK_NEEDS, angle=45, reference=Reference.SADDLE_CENTRE)
    check_room([centre], DEFAULT_SHOE, STICK)

    assert refusal_of([replace(centre, position=centre.position - 0.1)]).reason.id == "layout.room.end"


@pytest.mark.parametrize(
    ("marks", "reason"),
    [
        ([mark(40, 1), mark(41, 2)], "layout.arcs-overlap"),
        ([mark(1, hook=End.FAR)], "layout.before-end"),
        ([mark(119)], "layout.past-end"),
    ],
)
def test_arcs_that_overlap_or_leave_the_tube_are_refused(marks, reason):
    assert refusal_of(marks).reason.id == reason
