"""Question prose with values filled in."""

from __future__ import annotations

import pytest

from trainer.text.template import TemplateError, compile_template


def test_names_and_formats_are_filled_in():
    prose = compile_template("Rise {{ depth | length }}, {{angle|angle}} bends, {{ size }}.")

    assert prose.fill({"depth": 6.5, "angle": 30, "size": "3/4"}) == "Rise 6-1/2 in, 30° bends, 3/4."


def test_a_phrase_stands_for_a_word_of_the_core():
    prose = compile_template("It goes {{ place | phrase }}.")

    assert prose.fill({"place": "wet"}, {"place": {"wet": "on the roof"}}) == "It goes on the roof."


def test_prose_without_places_stays_as_it_is():
    assert compile_template("Ream it.").fill({}) == "Ream it."


def test_the_places_are_listed_in_order():
    places = compile_template("{{ b | length }} {{ a }}").places

    assert [(place.name, place.format) for place in places] == [("b", "length"), ("a", "text")]


@pytest.mark.parametrize(
    "prose",
    [
        "{{ depth | inch }}",
        "{{ depth + 1 | length }}",
        "{{ depth.real }}",
        "{{ }}",
        "{{ depth | length | angle }}",
        "{{ depth | length",
        "depth }}",
        "{% if depth %}{{",
        "{{ Depth | length }}",
    ],
)
def test_anything_but_a_name_and_a_named_format_is_refused(prose):
    with pytest.raises(TemplateError):
        compile_template(prose)


def test_an_unknown_format_is_refused_with_the_known_ones():
    with pytest.raises(TemplateError, match="length, feet"):
        compile_template("{{ depth | inch }}")


def test_a_name_without_a_value_is_named():
    with pytest.raises(TemplateError, match="depth"):
        compile_template("{{ depth | length }}").fill({})


def test_a_word_without_a_phrase_is_named():
    with pytest.raises(TemplateError, match="damp"):
        compile_template("{{ place | phrase }}").fill({"place": "damp"}, {"place": {"wet": "outside"}})


def test_a_value_that_does_not_fit_its_format_is_named():
    with pytest.raises(TemplateError, match="size"):
        compile_template("{{ size | length }}").fill({"size": "3/4"})


def test_what_is_looked_over_is_named_by_the_core():
    filled = compile_template("{{ end | look }}. {{ end | look_why }}").fill({"end": "thread-field"})

    assert filled == "a thread cut on it with a die on the job. EMT is not threaded in the field."


def test_what_is_no_thing_to_look_over_is_refused():
    with pytest.raises(TemplateError, match="looked over"):
        compile_template("{{ end | look }}").fill({"end": "a dent"})
