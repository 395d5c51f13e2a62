"""The marked tube with the bender on it: where the bends lie, what is told, and that no label stands on another."""

from __future__ import annotations

import re

import pytest

from trainer.calc.back_to_back import back_to_back
from trainer.calc.bender_settings import Setting, setting_job
from trainer.calc.four_point_saddle import four_point_saddle
from trainer.calc.kick import kick
from trainer.calc.marks import Datum, End, Reference
from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.stub_up import stub_up
from trainer.calc.three_point_saddle import three_point_saddle
from trainer.figures.bender_setting import draw_bender_setting
from trainer.figures.bender_sits import SETTINGS, draw_bender_sits
from trainer.figures.words import Words


def sheets(sound, svgs):
    return [sound(svg) for svg in re.findall(r"<svg.*?</svg>", svgs, re.DOTALL)]


def jobs():
    """A job of each kind, with its pencil marks."""
    for size in ("1/2", "3/4", "1"):
        stub = stub_up(20, size)
        yield setting_job({"trade_size": size}, stub.marks, 1), (stub.mark, 20.0, 20 + stub.take_up)
    for distance in (24.0, 60.0):
        pair = back_to_back(distance, 14)
        yield setting_job({}, pair.marks, 2), (pair.by_take_up, pair.by_back_mark)
    for depth, angle in ((3, 45), (10, 22.5)):
        step = offset(depth, angle, 60)
        yield setting_job({}, step.marks, 2), (step.second_mark, step.first_mark)
    saddle = three_point_saddle(3, 45, 40, DEFAULT_SHOES["3/4"])
    marks = (saddle.near_mark, saddle.centre_mark, saddle.far_mark)
    yield setting_job({"shoe": DEFAULT_SHOES["3/4"]}, saddle.marks, 1), marks
    yield setting_job({}, saddle.marks, 2, any_left=True), marks
    wide = four_point_saddle(4, 12, 45, clearance=2, distance=40)
    four = (wide.near_outer_mark, wide.near_inner_mark, wide.far_inner_mark, wide.far_outer_mark)
    yield setting_job({}, wide.marks, 3, any_left=True), four
    behind = kick(6, 30, measured_from=Datum.BACK)
    yield setting_job({}, behind.marks_arc, 2), (behind.mark_arc,)


JOBS = list(jobs())


@pytest.mark.parametrize(("job", "places"), JOBS, ids=[str(nth) for nth in range(len(JOBS))])
@pytest.mark.parametrize("reference", Reference)
@pytest.mark.parametrize("hook", End)
def test_every_setting_can_be_drawn_and_no_label_stands_on_another(sound, in_english, job, places, reference, hook):
    letters = dict(zip("ABCD", places, strict=False))
    right = [job.mark(Setting())]
    for place in places:
        yours = job.made(Setting(place, reference, hook))
        drawn = sheets(sound, draw_bender_setting(job, letters, Words(in_english), right=right, yours=yours, key="one"))

        assert len(drawn) == 3
        assert sorted(at for at, _, _ in drawn[0].at("mark")) == pytest.approx(places, abs=0.01)
        assert "Yours" in drawn[1].texts
        assert "Right" in drawn[2].texts


def test_before_the_answer_only_the_marks_are_drawn_and_all_of_them_are_told(sound, in_english):
    job, places = JOBS[3]
    (sheet,) = sheets(sound, draw_bender_setting(job, dict(zip("AB", places, strict=True)), Words(in_english)))

    assert sheet.all("desc")[0].text.endswith(
        "The tape starts at the back of it. Pencil marks: A at 19 in, B at 24 in."
    )
    assert not sheet.all("rect", "fig-bent-part")
    assert not sheet.all("rect", "fig-wrong")


def test_what_is_bent_already_is_drawn_and_told(sound, in_english):
    job, places = JOBS[6]
    svgs = draw_bender_setting(job, dict(zip("AB", places, strict=True)), Words(in_english))
    (sheet,) = sheets(sound, svgs)

    (made,) = sheet.all("rect", "fig-bent-part")
    (_, far, _) = max(sheet.at("mark"))
    assert float(made.get("x")) + float(made.get("width")) == pytest.approx(far, abs=3)
    assert float(made.get("x")) < far
    assert "Bend 1 is made already." in sheet.all("desc")[0].text


def test_a_wrong_hook_lays_the_bend_on_the_other_side_of_its_mark(sound, in_english):
    job, places = JOBS[0]
    letters = dict(zip("ABC", places, strict=True))
    starts = {}
    for hook in End:
        svgs = draw_bender_setting(job, letters, Words(in_english), yours=job.made(Setting(places[0], hook=hook)))
        sheet = sheets(sound, svgs)[0]
        (yours,) = sheet.all("rect", "fig-wrong")
        pencil = min(sheet.at("mark"))[1]
        starts[hook] = float(yours.get("x")) + float(yours.get("width")) / 2 - pencil

    assert starts[End.MEASURED] > 0 > starts[End.FAR]


@pytest.mark.parametrize("setting", SETTINGS)
def test_each_setting_of_the_lessons_can_be_drawn(sound, in_english, setting):
    sheet = sound(draw_bender_sits(setting, Words(in_english)))

    assert ("Hook turned around" in sheet.texts) is setting.endswith("hook-turned")
