"""A family tried out: each way in which it can fail is found, with the line to look at."""

from __future__ import annotations

import pytest

from trainer.problems import trial as module
from trainer.problems.family import load_family
from trainer.problems.trial import as_typed, trial


def found(text, draws=40):
    return {finding.key: finding for finding in trial(load_family(text, "questions/bends/spoilt.toml"), draws)}


def test_a_sound_family_has_nothing_to_find(sound, choices, fitting):
    assert trial(load_family(sound), 60) == []
    assert "draw" in found(choices)  # It has two problems only.
    assert trial(load_family(fitting), 60) == []


def test_numbers_that_never_fit_are_found_once(sound):
    findings = trial(load_family(sound.replace("spacing_arc > 0", "spacing_arc > 999")), 40)

    assert [(finding.key, finding.line) for finding in findings] == [("draw", 10)]
    assert "no fit in 200 tries" in findings[0].given


def test_a_word_without_a_phrase_is_found(sound):
    assert "roof" in found(sound.replace('roof = "on a roof"\n', ""))["ask.text"].accepted


def test_too_few_different_problems_are_found(choices):
    assert found(choices)["draw"].given == "2 different problems"


def test_a_mistake_that_never_happens_is_found(sound):
    finding = found(sound.replace('when = "value > 0"', 'when = "value > 999"'))["mistakes.1"]

    assert (finding.given, finding.line) == ("shrink never happens", 31)


def test_a_mistake_about_an_option_that_is_right_at_times_and_wrong_at_times_is_found(choices):
    finding = found(choices.replace('when = "left < 180"\n', ""))["mistakes.0.option"]

    assert finding.given == "one-eighty is sometimes right and sometimes wrong"


def test_a_key_that_is_not_judged_right_is_found(sound, monkeypatch):
    monkeypatch.setattr(module, "as_typed", lambda _problem, _value: ["900 in"])
    findings = found(sound)

    assert findings["ask"].accepted == "a key that is judged right"
    assert findings["mistakes.0"].accepted == "a known mistake that is named when it is typed"


def test_a_figure_that_fails_is_found(sound, monkeypatch):
    monkeypatch.setattr(module, "drawing", lambda *_args, **_kwargs: 1 / 0)

    assert "ZeroDivisionError" in found(sound)["figure"].given


def test_a_figure_that_shows_nothing_is_found(sound, monkeypatch):
    monkeypatch.setattr(module, "drawing", lambda *_args, **_kwargs: "")

    assert "nothing drawn" in found(sound)["figure"].given
    assert "figure" not in found(sound.replace('figure = "offset"', ""))


def test_a_calculation_without_steps_is_found(sound, monkeypatch):
    monkeypatch.setattr(module, "worked", lambda *_args: [])

    assert "no steps" in found(sound)["calculation"].given


@pytest.mark.parametrize(
    ("value", "tolerance", "typed"),
    [(10.4527, 1 / 16, ["10-7/16 in", "10-1/2 in"]), (10.4527, 1 / 32, ["10-7/16 in"])],
)
def test_a_length_is_typed_as_a_tape_reads(make_problem, value, tolerance, typed):
    assert as_typed(make_problem(value, tolerance=tolerance), value) == typed
