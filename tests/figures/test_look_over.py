"""Things looked over: each drawn, letters that lead to their boxes, nothing framed before it is solved."""

from __future__ import annotations

import pytest

from trainer.calc.look_over import THINGS
from trainer.figures.catalogue import draw_figure
from trainer.figures.lettered import Lettered
from trainer.figures.look_over import PLACES

LETTERS = Lettered({place: "ABCDEF"[nth] for nth, place in enumerate(PLACES)})
ENDS = {"first": "wheel-ridge", "second": "saw-filed", "third": "thread-field", "fourth": "saw-taped"}


def pages():
    """Every thing in a drawing with its neighbors of the same scene, six at a time."""
    for scene in ("ends", "joints", "wet", "box"):
        names = [name for name, thing in THINGS.items() if thing.scene == scene]
        for start in range(0, len(names) - 1, 5):
            yield dict(zip(PLACES, names[start : start + 6], strict=False))


@pytest.mark.parametrize("given", list(pages()), ids=lambda given: given["first"])
@pytest.mark.parametrize("solved", [False, True])
@pytest.mark.parametrize("lettered", [LETTERS, Lettered()])
def test_everything_can_be_drawn(sound, in_english, given, solved, lettered):
    sheet = sound(draw_figure("look_over", given, say=in_english, solved=solved, lettered=lettered))

    drawn = {group.get("data-kind") for group in sheet.all("g", "fig-at")}
    assert drawn == {f"look-{name}" for name in given.values()}


def test_two_things_that_differ_are_drawn_differently(in_english):
    """But for ends that are smooth either way, where the words say which tool it was."""
    alike = {"saw-filed", "saw-reamed", "nut-tight", "nut-loose", "locknut-tight", "locknut-loose", "wheel-reamed"}
    for scene in ("ends", "joints", "wet", "box"):
        names = [name for name, thing in THINGS.items() if thing.scene == scene and name not in alike]
        seen = {}
        for name in names:
            svg = draw_figure("look_over", {"first": name, "second": name}, say=in_english, solved=False)
            shapes = svg.split("</g>", 1)[1].split("<text", 1)[0]
            assert shapes not in seen, (name, seen.get(shapes))
            seen[shapes] = name


def test_nothing_is_framed_or_counted_before_it_is_solved(sound, in_english):
    asked, solved = (
        sound(draw_figure("look_over", ENDS, say=in_english, solved=one, lettered=LETTERS)) for one in (False, True)
    )

    assert not asked.all("rect", "fig-wrong")
    assert "fig-burr" not in asked.svg
    assert "breaks a rule" not in asked.svg
    assert len(solved.all("rect", "fig-wrong")) == 3
    assert solved.texts.count("breaks a rule") == 3


def test_the_description_says_each_thing_by_its_letter(sound, in_english):
    told = sound(draw_figure("look_over", ENDS, say=in_english, solved=False, lettered=LETTERS)).all("desc")[0].text

    assert "A: wheel cutter; the ridge still stands into the bore." in told
    assert "C: a thread cut on it with a die on the job." in told


def test_letters_lead_to_their_boxes(in_english):
    linked = Lettered(LETTERS.letters, {"A": "#first"})

    assert 'href="#first"' in draw_figure("look_over", ENDS, say=in_english, solved=False, lettered=linked)


def test_without_letters_the_things_are_numbered_and_listed(sound, in_english):
    texts = sound(draw_figure("look_over", ENDS, say=in_english, solved=False)).texts

    assert {"1", "2", "3", "4"} <= set(texts)
    assert "1: wheel cutter; the ridge still" in " ".join(texts)
