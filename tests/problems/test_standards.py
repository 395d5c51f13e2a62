"""What a question file of the shelf keeps to."""

from __future__ import annotations

import pytest

from trainer.problems.family import load_family
from trainer.problems.standards import standards

SKILLS = ("bends.offset", "bends.total")


def found(text, file="questions/bends/spoilt.toml", lessons=("offset-bends",)):
    return {finding.key: finding for finding in standards(load_family(text, file), SKILLS, lessons)}


def test_a_sound_family_keeps_to_all_of_them(sound):
    assert found(sound) == {}


@pytest.mark.parametrize(
    ("old", "new", "key", "line"),
    [
        ('skill = "bends.offset"', 'skill = "bends.offsets"', "skill", 3),
        ("level = 1", 'level = 1\nlesson = "offset-bend"', "lesson", 5),
        ('figure = "offset"', "", "figure", 1),
        ('[[hints]]\nsay = "Divide {{ depth | length }} by the sine."\n', "", "hints", 1),
        ('[[mistakes]]\nid = "depth"\nvalue = "depth"\nsay = "That is the depth."\n', "", "mistakes", 1),
        ("angle = {", "spare = { choose = [1, 2] }\nangle = {", "draw.spare", 12),
        ("[draw]", '[facts]\nlimit = "bends.total.limit"\n[draw]', "facts.limit", 11),
        ("That is the depth.", "That is <b>the</b> depth.", "mistakes.2.say", 40),
        ("How far apart?", "![a](b.png)", "ask.text", 24),
    ],
)
def test_what_falls_short_is_found_with_its_line(sound, old, new, key, line):
    assert old in sound

    assert found(sound.replace(old, new, 1))[key].line == line


def test_a_family_stands_in_the_folder_of_its_unit(sound):
    assert "'bends'" in found(sound, "questions/wet/spacing-of-marks.toml")["skill"].accepted


def test_without_any_lesson_it_says_so(sound):
    text = sound.replace("level = 1", 'level = 1\nlesson = "offset-bends"')

    assert found(text, lessons=())["lesson"].accepted == "one of no lessons yet"


def test_where_one_chooses_two_mistakes_will_do(choices):
    findings = found(choices)

    assert findings["mistakes"].given == "1 known mistakes"
    assert findings["mistakes"].accepted.startswith("2 or more")


def test_names_are_used_by_where_phrases_inputs_and_statements(fitting, shelf):
    assert not {key for key in found(fitting) if key.startswith("draw")}
    assert not {key for key in found(shelf["one-more-bend"].body) if key.startswith(("draw", "facts"))}


def test_prose_of_statements_is_looked_at_too(choices):
    assert "ask.statements.1.text" in found(choices.replace("two 90s", "two <i>90s</i>"))


def test_a_fact_from_memory_decides_about_nothing(sound):
    text = sound.replace("[draw]", '[facts]\nhook = "bends.room_on_the_tube.hook_needs"\n[draw]').replace(
        "value > 0", "value > hook - 9"
    )

    assert "from memory" in found(text)["facts.hook"].given
