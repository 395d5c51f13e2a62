"""Which change of a file changes which hash."""

from __future__ import annotations

import pytest

from trainer.problems.family import load_family


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('title = "Spacing"', 'title = "The spacing"'),
        ("How far apart?", "How far apart are they?"),
        ("is the depth times the sine.", "is depth times sine."),
        ("Divide {{ depth", "Just divide {{ depth"),
        ('wall = "on a wall"', 'wall = "along a wall"'),
        ('sources = ["right-triangle geometry"]', 'sources = ["geometry"]'),
        ("level = 1", "level = 2"),
        ('figure = "offset"', ""),
        ("level = 1", 'level = 1\nlesson = "offset-bends"'),
        ("level = 1", "level = 1\nlater = true"),
    ],
)
def test_words_change_only_the_hash_of_words(sound, family, old, new):
    changed = load_family(sound.replace(old, new, 1))

    assert changed.rules_hash == family.rules_hash
    assert changed.words_hash != family.words_hash


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('to = "8 in"', 'to = "9 in"'),
        ("[22.5, 30, 45]", "[22.5, 30]"),
        ("spacing_arc > 0", "spacing_arc > 1"),
        ('basis = ["sharp-corner", "handbook"]', 'basis = ["sharp-corner"]'),
        ('tolerance = "1/16 in"', 'tolerance = "1/8 in"'),
        ('tolerance = "1/16 in"', 'tolerance = "1/16 in"\ngap = 2'),
        ('answer = "spacing"', 'answer = "shrink"'),
        ("depth * sin(angle)", "depth * cos(angle)"),
        ('when = "value > 0"', 'when = "value > 1"'),
        ('id = "times-sine"', 'id = "multiplied"'),
        ('skill = "bends.offset"', 'skill = "bends.kick"'),
        ('id = "spacing-of-marks"', 'id = "spacing"'),
    ],
)
def test_rules_change_only_the_hash_of_rules(sound, family, old, new):
    changed = load_family(sound.replace(old, new, 1))

    assert changed.rules_hash != family.rules_hash
    assert changed.words_hash == family.words_hash


def test_comments_order_of_keys_and_defaults_written_out_change_neither(sound, family):
    changed = load_family(
        "# a remark\n"
        + sound.replace(
            'title = "Spacing"\nskill = "bends.offset"', 'skill = "bends.offset"\ntitle = "Spacing"'
        ).replace('kind = "length"', 'kind = "length"\ngap = 3.0')
    )

    assert (changed.rules_hash, changed.words_hash) == (family.rules_hash, family.words_hash)


def test_the_words_of_a_statement_are_words_and_its_truth_a_rule(choices):
    family = load_family(choices)
    reworded = load_family(choices.replace('text = "two 90s"', 'text = "a pair of 90s"'))
    changed = load_family(choices.replace("left >= 180", "left > 180"))

    assert (reworded.rules_hash == family.rules_hash, reworded.words_hash == family.words_hash) == (True, False)
    assert (changed.rules_hash == family.rules_hash, changed.words_hash == family.words_hash) == (False, True)


def test_a_hash_has_64_hexadecimal_digits(family):
    assert len(family.rules_hash) == len(family.words_hash) == 64
    assert set(family.rules_hash) <= set("0123456789abcdef")
