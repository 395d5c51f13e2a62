from hypothesis import given
from hypothesis import strategies as st

from trainer.figures.callout import Callout, callouts, label
from trainer.figures.svg import Drawing

items = st.builds(
    lambda x, words, side: Callout((x, 0), (words,), side=side, dot=True),
    st.floats(12, 348),
    st.sampled_from(["tube", "sealing ring on the tube", "box wall", "yours 12-3/8 in"]),
    st.sampled_from(["middle", "left", "right"]),
)


@given(st.lists(items, max_size=7), st.booleans())
def test_any_labels_lie_inside_and_touch_nothing(sound, chosen, above):
    drawing = Drawing()

    edge = callouts(drawing, chosen, 0, above=above)

    sheet = sound(drawing.finish(min(0, edge) - 5, max(0, edge) + 5, "title", "about"))
    assert len(sheet.texts) == len(chosen)


def test_labels_far_apart_share_the_nearest_row():
    drawing = Drawing()

    callouts(drawing, [Callout((60, 0), ("tube",)), Callout((300, 0), ("locknut",))], 0, above=False)

    assert drawing.boxes[0].top == drawing.boxes[1].top


def test_a_leader_never_runs_through_a_nearer_label():
    drawing = Drawing()

    callouts(drawing, [Callout((100, 0), ("sealing ring on the tube",)), Callout((104, 0), ("tube",))], 0, above=True)

    nearer, outer = drawing.boxes
    assert outer.bottom <= nearer.top or not nearer.left < 104 < nearer.right


def test_a_label_takes_the_first_free_spot_or_the_last():
    drawing = Drawing()
    drawing.text((100, 20), "spacing")
    spots = [((100, 20), "start"), ((100, 80), "start"), ((100, 120), "start")]

    assert label(drawing, "yours", spots).top > 60
    assert label(drawing, "yours", spots[:1]).top < 20


def test_points_close_together_find_places_without_a_leader_through_a_label():
    drawing = Drawing()
    names = {119: "D  9 ft 10 in", 144: "coupling", 152: "E  11 ft 10 in"}

    callouts(drawing, [Callout((x, 0), (names[x],)) for x in (119, 152, 144)], 0, above=True)

    boxes = dict(zip((119, 152, 144), drawing.boxes, strict=True))
    crossed = [
        (x, y)
        for x, outer in boxes.items()
        for y, inner in boxes.items()
        if outer.bottom <= inner.top and inner.left < x < inner.right
    ]
    assert crossed == []
