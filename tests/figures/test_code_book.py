import pytest

from trainer.calc.code_place import EDITIONS, SUBJECTS, code_place
from trainer.figures.catalogue import draw_figure


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_place_is_flagged_at_its_chapter(sound, in_english, subject, edition):
    sheet = sound(draw_figure("code_book", {"subject": subject, "edition": edition}, say=in_english))
    found = sheet.all("rect", "fig-bent-part")
    layers = sorted(float(rect.get("y")) for rect in [*sheet.all("rect", "fig-part"), *found])

    assert len(found) == 1
    assert layers.index(float(found[0].get("y"))) == code_place(subject, edition).chapter
    assert sheet.all("line", "fig-mark")


def test_before_the_answer_no_place_is_flagged(sound, in_english):
    sheet = sound(draw_figure("code_book", {"subject": "straps"}, say=in_english, solved=False))

    assert not sheet.all("line", "fig-mark")
    assert not any("358" in text for text in sheet.texts)
