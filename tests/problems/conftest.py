"""A small sound question file, ways to spoil it, and problems made by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from trainer.problems.family import load_family
from trainer.problems.model import AnswerKind, Key, MistakeValue, Option, Problem
from trainer.problems.shelf import load_families

QUESTIONS = Path(__file__).resolve().parents[2] / "questions"

SOUND = """\
id = "spacing-of-marks"
title = "Spacing"
skill = "bends.offset"
level = 1
calculation = "offset"
basis = ["sharp-corner", "handbook"]
figure = "offset"
sources = ["right-triangle geometry"]

[draw]
depth = { from = "4 in", to = "8 in", step = "1/2 in" }
angle = { choose = [22.5, 30, 45] }
place = { words = ["wall", "roof"] }
keep = ["spacing_arc > 0"]

[phrases.place]
wall = "on a wall"
roof = "on a roof"

[ask]
kind = "length"
answer = "spacing"
tolerance = "1/16 in"
text = "An offset {{ depth | length }} deep, {{ angle | angle }}, {{ place | phrase }}. How far apart?"

[[mistakes]]
id = "times-sine"
value = "depth * sin(angle)"
say = "{{ value | length }} is the depth times the sine."

[[mistakes]]
id = "shrink"
value = ["shrink", "shrink_handbook"]
when = "value > 0"
say = "That is the shrink."

[[mistakes]]
id = "depth"
value = "depth"
say = "That is the depth."

[[hints]]
say = "Divide {{ depth | length }} by the sine."
"""

CHOICES = """\
id = "what-goes-in"
title = "What goes in"
skill = "bends.total"
level = 2
calculation = "bend_total"
sources = ["NFPA 70-2023 358.24(B)"]

[facts]
limit_degrees = "bends.total.limit"

[draw]
nineties = { choose = [2, 3] }

[inputs]
angles = "{{ nineties | count }}x90"

[ask]
kind = "choices"
text = "{{ nineties | count }} 90s are in. Which may be added? At most {{ limit_degrees | angle }}."

[[ask.statements]]
id = "ninety"
text = "a 90"
right = "left >= 90"
why = "{{ left | angle }} are left."

[[ask.statements]]
id = "one-eighty"
text = "two 90s"
right = "left >= 180"
why = "{{ left | angle }} are left."

[[ask.statements]]
id = "kick"
text = "a kick of 200"
right = "left >= 200"
why = "{{ left | angle }} are left."

[[mistakes]]
id = "one-too-many"
option = "one-eighty"
when = "left < 180"
say = "Only {{ left | angle }} are left."
"""

FITTING = """\
id = "which-fitting"
title = "Which fitting"
skill = "fittings.connectors"
level = 1
calculation = "fitting_choice"
sources = ["common practice, no source"]

[draw.job]
rows = [
  { place = "wet", box_side = "sealed", spacing = "60 in" },
  { place = "dry", box_side = "plain", spacing = "60 in" },
]

[phrases.place]
wet = "outside"
dry = "inside"

[ask]
kind = "choice"
options = { right = "suitable", wrong = "unsuitable", show = 4 }
text = "A box {{ place | phrase }}. Which?"

[[mistakes]]
id = "gland-nut"
option = "compression"
where = { place = ["wet"] }
say = "A gland nut is not enough."
"""


@pytest.fixture
def sound():
    """The text of a sound family that asks for a length."""
    return SOUND


@pytest.fixture
def choices():
    """The text of a sound family that asks for several choices among statements."""
    return CHOICES


@pytest.fixture
def fitting():
    """The text of a sound family that asks for one choice among what the core lists."""
    return FITTING


@pytest.fixture
def family(sound):
    return load_family(sound, "questions/bends/spacing-of-marks.toml")


@pytest.fixture(scope="session")
def shelf():
    """The families that travel with the program."""
    return load_families(QUESTIONS)


@pytest.fixture
def make_problem():
    """A problem made by hand: `make_problem(key, mistakes={"id": value}, ...)`."""

    def make(*keys, kind=AnswerKind.LENGTH, unit="in", tolerance=1 / 16, mistakes=None, options=()):
        return Problem(
            family_id="by-hand",
            title="By hand",
            skill="bends.offset",
            lesson="",
            level=1,
            rules_hash="0" * 64,
            words_hash="1" * 64,
            seed=0,
            edition="2023",
            numbers={},
            text="How far?",
            kind=kind,
            unit=unit,
            tolerance=tolerance,
            keys=tuple(key if isinstance(key, Key) else Key(key) for key in keys),
            mistakes=tuple(MistakeValue(name, value, "said") for name, value in (mistakes or {}).items()),
            options=tuple(Option(name, name) for name in options),
        )

    return make
