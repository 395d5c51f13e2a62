"""Question files read: what is refused, with file, line, key, what was given and what is accepted."""

from __future__ import annotations

import pytest

from trainer.problems.errors import ContentError
from trainer.problems.family import load_family
from trainer.problems.model import AnswerKind


def refusal(text):
    with pytest.raises(ContentError) as caught:
        load_family(text, "questions/bends/spoilt.toml")
    return caught.value


def test_a_sound_file_gives_a_family_with_everything_that_it_says(family):
    assert (family.id, family.title, family.skill, family.level) == ("spacing-of-marks", "Spacing", "bends.offset", 1)
    assert (family.kind, family.unit, family.tolerance) == (AnswerKind.LENGTH, "in", 0.0625)
    assert (family.lesson, family.figure, family.basis) == ("", "offset", "sharp-corner+handbook")
    assert family.sources == ("right-triangle geometry",)
    assert family.line("mistakes", 1, "when") == 34
    assert repr(family) == "Family('spacing-of-marks')"


def test_where_the_core_knows_no_sharp_corner_the_plain_output_stands_for_its_own_basis(shelf):
    family = shelf["segment-shot-spacing"]

    assert family.answers == (("handbook", "shot_spacing"),)


def test_a_file_is_read_from_its_path_too(tmp_path, sound):
    (tmp_path / "spacing-of-marks.toml").write_text(sound, "utf-8")

    assert load_family(tmp_path / "spacing-of-marks.toml").body == sound


def test_an_error_names_the_path_when_no_other_name_is_given(tmp_path):
    (tmp_path / "a.toml").write_text("id = 1", "utf-8")

    with pytest.raises(ContentError) as caught:
        load_family(tmp_path / "a.toml")
    assert caught.value.file == str(tmp_path / "a.toml")
    with pytest.raises(ContentError, match=r"^question file:1:"):
        load_family("id = 1")


SPOILT = [
    # what stands there, what is put in its place, line, key, part of what is accepted
    ('id = "spacing-of-marks"', 'id = "Spacing"', 1, "id", "pattern"),
    ('title = "Spacing"', "", 1, "title", "field required"),
    ('title = "Spacing"', 'titel = "Spacing"\ntitle = "S"', 2, "titel", "no such key"),
    ('title = "Spacing"', 'title = "Spa\u202ecing"', 2, "title", "signs that can be seen"),
    ('sources = ["right-triangle geometry"]', 'sources = ["a", "b\\u0007"]', 8, "sources.1", "signs that can be seen"),
    ('skill = "bends.offset"', 'skill = "offset"', 3, "skill", "pattern"),
    ("level = 1", "level = 4", 4, "level", "1, 2 or 3"),
    ('calculation = "offset"', 'calculation = "offsets"', 5, "calculation", "stub_up"),
    ('basis = ["sharp-corner", "handbook"]', "", 22, "ask.answer", 'basis = ["sharp-corner", ...]'),
    ('basis = ["sharp-corner", "handbook"]', 'basis = ["both"]', 6, "basis.0", "'handbook'"),
    ('figure = "offset"', 'figure = "straps"', 7, "figure", "offset"),
    ('sources = ["right-triangle geometry"]', "sources = []", 8, "sources", "at least 1"),
    ('from = "4 in"', 'from = "4 inn"', 11, "draw.depth.from", "a length in quotes"),
    ('from = "4 in"', 'from = "4"', 11, "draw.depth.from", '"4 in"'),
    ('step = "1/2 in"', 'step = "0 in"', 11, "draw.depth.step", "above 0"),
    ('step = "1/2 in"', 'step = "3/16 in"', 11, "draw.depth.to", "whole steps"),
    ('step = "1/2 in"', "step = 0.0001", 11, "draw.depth.step", "20000"),
    ('to = "8 in"', 'to = "3 in"', 11, "draw.depth.to", "not below"),
    ('to = "8 in", ', "", 11, "draw.depth.to", "field required"),
    ('to = "8 in"', "to = inf", 11, "draw.depth.to", "finite"),
    ("{ choose = [22.5, 30, 45] }", "{ choose = [] }", 12, "draw.angle.choose", "at least 1"),
    ("{ choose = [22.5, 30, 45] }", '{ choose = ["30 deg"] }', 12, "draw.angle.choose", "a length"),
    ("{ choose = [22.5, 30, 45] }", "{ chose = [30] }", 12, "draw.angle.from", "field required"),
    ('words = ["wall", "roof"]', f"rows = [{{ place = {'x' * 401!r} }}]", 13, "draw.place.rows.0.place", "400"),
    ("angle = {", "shrink = {", 12, "draw.shrink", "no output"),
    ("angle = {", "value = {", 12, "draw.value", "no output"),
    ("angle = {", "angel = {", 10, "draw", "the input 'angle'"),
    ("spacing_arc > 0", "spacing_arch > 0", 14, "draw.keep", "names of the file"),
    ("spacing_arc > 0", "__import__(1)", 14, "draw.keep", "plain digits"),
    ("[phrases.place]", "[phrases.placing]", 16, "phrases.placing", "depth, angle, place"),
    ('kind = "length"', 'kind = "lenght"', 21, "ask.kind", "'length'"),
    ('kind = "length"', 'kind = "count"', 23, "ask.tolerance", "no tolerance"),
    ('kind = "length"', 'kind = "number"', 21, "ask.kind", "fits an answer in in"),
    ('kind = "length"', 'kind = "choice"', 20, "ask", "ask.options or ask.statements"),
    ('answer = "spacing"', "", 20, "ask", "answer ="),
    ('answer = "spacing"', 'answer = "gap"', 22, "ask.answer", "spacing"),
    ('answer = "spacing"', 'answer = "marks"', 22, "ask.answer", "a number"),
    ('tolerance = "1/16 in"', "", 20, "ask.tolerance", "a tolerance"),
    ('tolerance = "1/16 in"', 'tolerance = "1/16"', 23, "ask.tolerance", "the unit"),
    ('tolerance = "1/16 in"', 'tolerance = "1/16 in"\nshow = 3', 24, "ask.show", "no such key"),
    ("{{ depth | length }} deep", "{{ depht | length }} deep", 24, "ask.text", "depth"),
    ("{{ depth | length }} deep", "{{ depth | long }} deep", 24, "ask.text", "one of the formats"),
    ("{{ depth | length }} deep", "{{ spacing | length }} deep", 24, "ask.text", "one of the names"),
    ("{{ depth | length }} deep", "{{ spacing_handbook | length }} deep", 24, "ask.text", "one of the names"),
    ("{{ place | phrase }}", "{{ angle | phrase }}", 24, "ask.text", "[phrases.angle]"),
    ('id = "shrink"', 'id = "times-sine"', 32, "mistakes.1.id", "only once"),
    ('value = "depth * sin(angle)"', 'value = "depth * sinus(angle)"', 28, "mistakes.0.value", "functions"),
    ('value = "depth * sin(angle)"', 'option = "a"', 26, "mistakes.0", "a formula, and no option"),
    ('when = "value > 0"', 'when = "worth > 0"', 34, "mistakes.1.when", "names of the file"),
    ('when = "value > 0"', 'where = { place = ["shed"] }', 34, "mistakes.1.where", "wall, roof"),
    ('when = "value > 0"', 'where = { colour = ["red"] }', 34, "mistakes.1.where", "drawn for colour"),
    ("[[hints]]", "[[hints]]\nwhy = 1", 43, "hints.0.why", "no such key"),
]


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "accepted"), SPOILT, ids=[f"{row[3]}:{row[1][:24]}" for row in SPOILT]
)
def test_a_spoilt_file_is_refused_with_line_key_and_what_is_accepted(sound, old, new, line, key, accepted):
    assert old in sound

    error = refusal(sound.replace(old, new, 1))

    assert error.file == "questions/bends/spoilt.toml"
    assert any((one.line, one.key) == (line, key) and accepted in one.accepted for one in error.every)


def test_every_finding_of_a_file_is_told_in_one_reading(sound):
    error = refusal(sound.replace("depth * sin(angle)", "dept").replace("spacing_arc > 0", "arc > 0"))

    assert [one.line for one in error.every] == [14, 28]
    assert str(error).startswith("questions/bends/spoilt.toml:14: draw.keep: given 'arc > 0' (")


@pytest.mark.parametrize(
    ("text", "line"), [('id = "a"\nid = "b"\n', 2), ("[draw\n", 1), ('id = "a"\n\nx = {', 3), ("", 1)]
)
def test_what_is_no_toml_or_nothing_at_all_names_its_line(text, line):
    assert refusal(text).line == line


def test_a_name_that_is_drawn_twice_is_found(fitting):
    error = refusal(fitting.replace("[draw.job]", '[draw]\nplace = { words = ["wet"] }\n[draw.job]'))

    assert any("drawn once" in one.accepted for one in error.every)


def test_rows_of_a_table_have_the_same_names(fitting):
    error = refusal(fitting.replace('place = "dry", ', ""))

    assert any(one.accepted == "the same names as in the first row: place, box_side, spacing" for one in error.every)


@pytest.mark.parametrize(
    ("old", "new", "accepted"),
    [
        ('"bends.total.limit"', '"bends.total.limits"', "a number in a table"),
        ('"bends.total.limit"', '"bend.total.limit"', "a number in a table"),
        ('"bends.total.limit"', '"bends.total.source"', "a number in a table"),
        ('"bends.total.limit"', '"bends.offset_constants.rows.99.angle"', "a number in a table"),
        ("limit_degrees = ", "left = ", "stands for nothing else"),
        ('angles = "', 'angels = "', "limit, edition"),
        ('option = "one-eighty"', 'option = "one-seventy"', "kick, ninety, one-eighty"),
        ('option = "one-eighty"', 'value = "left"', "the id of an option"),
        ('id = "kick"', 'id = "ninety"', "only once"),
        ('kind = "choices"', 'kind = "choices"\nanswer = "left"', "no such key"),
        ('kind = "choices"', 'kind = "number"\nanswer = "left"\ntolerance = 1', "no such key"),
    ],
)
def test_facts_inputs_and_options_are_looked_up(choices, old, new, accepted):
    assert any(accepted in one.accepted for one in refusal(choices.replace(old, new, 1)).every)


def test_a_fact_can_stand_in_a_row_of_a_table(choices):
    family = load_family(choices.replace("bends.total.limit", "bends.hand_bender_shoe.rows.1.take_up"))

    assert family.facts == {"limit_degrees": 6.0}
