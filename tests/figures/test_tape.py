import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.figures.catalogue import draw_figure

sixteenths = st.integers(1, 400 * 16).map(lambda count: count / 16)


@settings(deadline=None, max_examples=60)
@given(sixteenths, st.sampled_from([0.0, 1.0, 10.0]), st.booleans(), st.one_of(st.none(), st.floats(0.1, 400)))
def test_any_reading_is_sound(sound, in_english, reading, begun_at, solved, yours):
    inputs = {"reading": reading + begun_at, "begun_at": begun_at}
    wrong = {} if yours is None else {"length": yours}

    sound(draw_figure("tape", inputs, say=in_english, wrong=wrong, solved=solved))


def test_the_pointer_stands_on_the_line_that_is_read(sound, in_english):
    sheet = sound(draw_figure("tape", {"reading": 23.6875}, say=in_english))

    ((place, x, _),) = sheet.at("mark")
    ticks = sorted({float(line.get("x1")) for line in sheet.all("line", "fig-tick")})
    inch = next(float(t.get("x")) for t in sheet.all("text") if t.text == "23")
    assert place == 23.6875
    assert ticks.index(min(ticks, key=lambda tick: abs(tick - x))) - ticks.index(inch) == 11
    assert x == pytest.approx(inch + 11 / 16 * 100)


def test_lines_are_as_long_as_what_they_divide(sound, in_english):
    sheet = sound(draw_figure("tape", {"reading": 23.6875}, say=in_english))

    inch = next(float(t.get("x")) for t in sheet.all("text") if t.text == "23")
    tall = {
        round((float(line.get("x1")) - inch) / 100 * 16): float(line.get("y2")) - float(line.get("y1"))
        for line in sheet.all("line", "fig-tick")
    }
    assert tall[0] > tall[8] > tall[4] == tall[12] > tall[2] == tall[14] > tall[1] == tall[11]


def test_before_the_answer_it_is_said_by_its_line_and_not_in_inches(sound, in_english):
    sheet = sound(draw_figure("tape", {"reading": 23.6875}, say=in_english, solved=False))

    about = sheet.all("desc")[0].text
    assert "between 23 and 24. Counted from the 23, it is on line 11." in about
    assert "11/16" not in about + " ".join(sheet.texts)


def test_a_place_between_two_lines_is_not_shown_before_the_answer(sound, in_english):
    assert not sound(draw_figure("tape", {"reading": 34.703}, say=in_english, solved=False)).at("mark")
    assert sound(draw_figure("tape", {"reading": 34.703}, say=in_english)).at("mark")[0][0] == 34.6875


def test_a_learner_s_length_stands_where_the_tape_would_show_it(sound, in_english):
    sheet = sound(draw_figure("tape", {"reading": 36.125, "begun_at": 10}, say=in_english, wrong={"length": 26.5}))

    assert [place for place, _, _ in sheet.at("yours")] == [36.5]
    assert [place for place, _, _ in sheet.at("mark")] == [10, 36.125]


def test_whole_feet_are_named(sound, in_english):
    assert "2 ft" in sound(draw_figure("tape", {"reading": 23.6875}, say=in_english)).texts


def test_counted_sixteenths_stand_past_their_inch(sound, in_english):
    sheet = sound(draw_figure("tape", {"reading": 94.889}, say=in_english, wrong={"ticks": 8.0}))

    assert [place for place, _, _ in sheet.at("yours")] == [94.5]
    assert "yours 94-1/2 in" in sheet.texts
