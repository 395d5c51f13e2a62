from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure


def sheet_of(sound, say, **more):
    inputs = {name: more.pop(name) for name in ("knockout", "angle", "near_mark", "standoff", "shoe") if name in more}
    return sound(draw_figure("box_offset", {"knockout": 0.9, **inputs}, say=say, **more))


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.6, 2),
    st.sampled_from((5, 10, 15, 22.5)),
    st.floats(2.5, 5),
    st.sampled_from((0.0, 0.25)),
    st.booleans(),
)
def test_any_box_offset_is_sound(sound, in_english, knockout, angle, near_mark, standoff, solved):
    inputs = {"knockout": knockout + standoff, "angle": angle, "near_mark": near_mark, "standoff": standoff}
    sheet_of(sound, in_english, **inputs, solved=solved)


def test_marks_and_a_wrong_one_are_drawn_when_solved(sound, in_english):
    sheet = sheet_of(sound, in_english, wrong={"far_mark": 3.4})

    assert len(sheet.at("mark")) == 2
    assert [round(position, 1) for position, _, _ in sheet.at("yours")] == [3.4]


def test_before_the_answer_only_the_box_is_seen(sound, in_english):
    sheet = sheet_of(sound, in_english, solved=False)

    assert sheet.texts == ["7/8 in"]
    assert not sheet.at("mark")
