from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

some = st.lists(st.integers(1, 3000).map(lambda count: count / 16), min_size=1, max_size=6).map(tuple)


@settings(deadline=None, max_examples=60)
@given(some, some, st.integers(1, 6), st.booleans(), st.one_of(st.none(), st.floats(0.1, 2000)))
def test_any_sum_is_sound(sound, in_english, lengths, taken, parts, solved, yours):
    inputs = {"lengths": (*lengths, sum(taken)), "taken_off": taken, "parts": parts}
    wrong = {} if yours is None else {"total": yours}

    sound(draw_figure("lengths", inputs, say=in_english, wrong=wrong, solved=solved))


def test_what_is_asked_for_is_a_question_mark_until_it_is_solved(sound, in_english):
    inputs = {"lengths": "3 ft 7-3/4 in, 2 ft 8-5/8 in"}
    asked = sound(draw_figure("lengths", inputs, say=in_english, solved=False))
    solved = sound(draw_figure("lengths", inputs, say=in_english))

    assert "?" in asked.texts
    assert "6 ft 4-3/8 in" not in asked.svg
    assert "6 ft 4-3/8 in" in solved.texts


def test_what_is_taken_off_and_parted_gives_neither_away(sound, in_english):
    inputs = {"lengths": "97-1/2 in", "taken_off": "4 in", "parts": "2"}
    asked = sound(draw_figure("lengths", inputs, say=in_english, solved=False))

    assert asked.texts.count("?") == 2
    assert "− 4 in" in asked.texts
    assert "3 ft 10-3/4 in" in sound(draw_figure("lengths", inputs, say=in_english)).texts


def test_bars_are_to_scale(sound, in_english):
    sheet = sound(draw_figure("lengths", {"lengths": "30 in, 60 in"}, say=in_english))

    first, second = (float(bar.get("width")) for bar in sheet.all("rect", "fig-tube"))
    assert abs(second - 2 * first) < 0.05


def test_a_learner_s_length_is_drawn_dashed(sound, in_english):
    sheet = sound(draw_figure("lengths", {"lengths": "30 in, 60 in"}, say=in_english, wrong={"total": 80}))

    assert "yours 6 ft 8 in" in sheet.texts
    assert sheet.at("yours")[0][0] == 80
