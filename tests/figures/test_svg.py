from trainer.figures.measure import text_box
from trainer.figures.svg import Drawing, polyline


def drawn(**more):
    drawing = Drawing()
    drawing.text((20, 20), "6 < 8 & 9")
    return drawing.finish(0, 40, "A <title>", 'says "this"', **more)


def test_words_are_escaped(sound):
    sheet = sound(drawn())

    assert sheet.texts == ["6 < 8 & 9"]
    assert sheet.all("title")[0].text == "A <title>"
    assert "<title>" not in sheet.svg.replace("<title id", "").removeprefix("<svg")


def test_the_same_figure_twice_on_a_page_gets_other_ids_by_its_key():
    assert drawn() == drawn()
    assert drawn(key="second") != drawn()


def test_figures_that_differ_get_other_ids(sound):
    other = Drawing()
    other.text((20, 20), "6 < 8 & 10")

    one, two = sound(drawn()), sound(other.finish(0, 40, "A <title>", 'says "this"'))

    assert one.root.get("aria-labelledby") != two.root.get("aria-labelledby")


def test_texts_stand_above_all_lines():
    drawing = Drawing()
    drawing.text((20, 20), "spacing")
    drawing.line((0, 0), (10, 10), "fig-dim")

    svg = drawing.finish(0, 40, "title", "about")

    assert svg.index("<line") < svg.index("<text")


def test_numbers_of_a_group_are_escaped_and_short():
    drawing = Drawing()
    drawing.open_group("fig-at", position=1 / 3, kind='"><script>')
    drawing.close_group()

    svg = drawing.finish(0, 10, "title", "about")

    assert 'data-position="0.333333"' in svg
    assert "<script>" not in svg


def test_a_text_is_free_only_inside_and_beside_others():
    drawing = Drawing()
    drawing.text((100, 20), "spacing")

    assert not drawing.is_free(text_box(110, 22, "shrink"))
    assert not drawing.is_free(text_box(-5, 80, "shrink"))
    assert not drawing.is_free(text_box(355, 80, "shrink"))
    assert drawing.is_free(text_box(100, 80, "shrink"))


def test_the_highest_and_lowest_text_are_known():
    drawing = Drawing()
    assert (drawing.highest, drawing.lowest) == (0.0, 0.0)
    drawing.text((100, 20), "spacing")
    drawing.text((100, 90), "shrink")

    assert drawing.highest < 20
    assert drawing.lowest > 90


def test_a_paragraph_ends_below_its_lines():
    drawing = Drawing()

    bottom = drawing.paragraph(10, "word " * 40)

    assert len(drawing.boxes) > 2
    assert bottom > drawing.lowest


def test_a_closed_polyline_ends_where_it_began():
    assert polyline([(0, 0), (1, 2.5)], closed=True) == "M 0 0 L 1 2.5 Z"
